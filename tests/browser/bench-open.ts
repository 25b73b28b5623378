/**
 * How long a stored set takes to open in Reading, and its measures to be there, in Chromium:
 * `npm run bench:open -- FILE.mcap...`. Each file is brought in through the Storage screen, which runs its records
 * through the pipeline and keeps the state, and is then opened three times.
 */

import { readFileSync } from 'node:fs';
import { readSet } from '../../src/core/recording/set-reader.ts';
import { findChromium } from './find-chromium.ts';
import { launchChromium, openPage } from './launch.ts';
import { serveApp } from './serve-app.ts';

const files = process.argv.slice(2);
if (files.length === 0) throw new Error('which set files? npm run bench:open -- FILE.mcap...');
const chromiumPath = findChromium();
if (chromiumPath === null) throw new Error('No Chromium found: install one or set CHROMIUM_PATH.');

function idOf(file: string): string {
  const result = readSet(new Uint8Array(readFileSync(file)));
  if (!result.ok) throw new Error(`${file}: ${result.error.message}`);
  return result.set.description.setId;
}

const app = await serveApp();
const browser = await launchChromium(chromiumPath);
try {
  for (const file of files) {
    const setId = idOf(file);
    const { page, context } = await openPage(browser);
    page.setDefaultTimeout(300_000);
    await page.goto(`${app.baseUrl}#/storage`);
    await page.locator('input[type=file]').setInputFiles(file);
    await page.getByText('1 set brought in').waitFor();
    for (let time = 1; time <= 3; time++) {
      await page.goto(`${app.baseUrl}#/`);
      await page.getByRole('heading', { name: 'Recent sets' }).waitFor();
      await page.locator('.set-line').first().waitFor();
      const beganMs = performance.now();
      await page.evaluate((id) => {
        location.hash = `#/set/${id}`;
      }, setId);
      await page.locator('.swing-table').waitFor();
      const openedS = (performance.now() - beganMs) / 1000;
      await page.locator('.set-words[aria-busy="false"]').waitFor({ state: 'attached' });
      const measuredS = (performance.now() - beganMs) / 1000;
      console.log(
        `${file}, time ${time}: open after ${openedS.toFixed(2)} s, measured after ${measuredS.toFixed(2)} s`,
      );
    }
    await context.close();
  }
} finally {
  await browser.close();
  await app.close();
}
