import { createHash } from 'node:crypto';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { launchChromium, openPage } from './launch.ts';
import { storedFiles } from './stored-files.ts';

const underTest = inject('browserUnderTest');
/** Sets are fetched, checked and compared, on a machine that may be busy. */
const SLOW = { timeout: 120_000 };

/** What a first-time reader is to find, by player. */
const PLAYERS = [
  { name: 'Player B', head: 'Scale down', sentence: 'the smaller kit, serves this player better' },
  { name: 'Player C', head: 'Step up', sentence: 'the larger kit, serves this player' },
  { name: 'Player D', head: 'Not enough yet', sentence: 'at least 4 more swings' },
] as const;

/** By name; comparing megabytes one by one would take minutes. */
async function digests(page: Page): Promise<Record<string, string>> {
  const files = await storedFiles(page);
  return Object.fromEntries(
    [...files].map(([name, bytes]) => [name, createHash('sha256').update(bytes).digest('hex')]),
  );
}

const press = (page: Page) => page.getByRole('button', { name: /three invented players/ }).click();

describe.skipIf(underTest === null)('invented players', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium(chromiumPath);
  });
  afterAll(() => browser.close());

  it('come with one press, answer each in their own way, come no second time, and can be deleted', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await page.goto(baseUrl);
    await press(page);
    await page.getByText('5 sets brought in, marked as simulated.').waitFor(SLOW);
    const lines = page.locator('.set-line');
    await expect.poll(() => lines.count()).toBe(5);
    for (const line of await lines.allTextContents()) expect(line).toMatch(/invented.*simulated/);
    const before = await digests(page);

    await press(page);
    await page.getByText('All of them are here already: nothing was added.').waitFor();
    expect(await digests(page)).toEqual(before);

    const first = page.getByRole('navigation', { name: 'Invented players side by side' });
    for (const { name, head, sentence } of PLAYERS) {
      await first.getByRole('link', { name }).click();
      const answer = page.locator('.side-answer');
      await answer.getByRole('heading', { name: head, exact: true }).waitFor(SLOW);
      expect(await answer.textContent()).toContain(sentence);
      await page.goto(`${baseUrl}#/`);
    }

    await page.goto(`${baseUrl}#/storage`);
    const gone = page.getByRole('button', { name: /^Delete.*Player D/ });
    await gone.click();
    await page.getByRole('button', { name: /Player D/ }).click();
    await page.getByText('Player D (invented): 1 set deleted for good.').waitFor();
    assertNoErrors();
    await context.close();
  });

  it('say that they need the network when there is none, and nothing is fetched beforehand', async () => {
    const { page, context } = await openPage(browser);
    const asked: string[] = [];
    context.on('request', (request) => asked.push(request.url()));
    await page.goto(baseUrl);
    await page.getByText('Works without network').waitFor(SLOW);
    expect(asked.filter((address) => address.includes('.mcap'))).toEqual([]);
    await context.setOffline(true);
    await press(page);
    await page.getByRole('alert').filter({ hasText: 'needs the network' }).waitFor();
    await context.setOffline(false);
    await press(page);
    await page.getByText('5 sets brought in').waitFor(SLOW);
    await context.close();
  });
});
