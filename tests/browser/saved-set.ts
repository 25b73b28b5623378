import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { readSet, type StoredSet } from '../../src/core/recording/set-reader.ts';

/** The newest set of the Start screen's list, as its own button saves it. */
export async function saveNewestSet(page: Page): Promise<StoredSet> {
  const saving = page.waitForEvent('download', { timeout: 20_000 });
  await page
    .locator('.set-line')
    .first()
    .getByRole('button', { name: /Save file of the set/ })
    .click();
  const download = await saving;
  const result = readSet(new Uint8Array(await readFile(await download.path())));
  if (!result.ok) throw new Error(result.error.message);
  return result.set;
}
