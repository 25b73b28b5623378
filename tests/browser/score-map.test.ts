import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { launchChromium, openPage } from './launch.ts';
import { mappedSet } from './mapped-set.ts';
import { overflows } from './screen-checks.ts';
import { bringIn } from './weeks-of-sets.ts';

const underTest = inject('browserUnderTest');
const SLOW = { timeout: 120_000 };

describe.skipIf(underTest === null)('the score map', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium(chromiumPath);
  });
  afterAll(() => browser.close());

  it('draws each ball of a set where it was tapped, in Reading and in the report', async () => {
    const { tapped, file } = mappedSet(12);
    const { page, context, assertNoErrors } = await openPage(browser);
    await bringIn(page, baseUrl, [file]);
    await page.goto(`${baseUrl}#/set/mapped`);
    await page.locator('.set-pictures[aria-busy="false"]').waitFor(SLOW);
    const map = page.locator('#picture-score-map');
    await map.getByText('Numbers and files').click();
    const rows = await map
      .locator('.picture-table tbody tr')
      .evaluateAll((all) =>
        all.map((row) => [...row.querySelectorAll('td')].map((cell) => cell.textContent)),
      );
    const print = (metres: number) => metres.toFixed(2).replace('-', '−');
    expect(rows).toEqual(
      tapped.map(({ beyondM, leftM, points }, i) => [
        String(i + 1),
        print(beyondM),
        print(-leftM),
        String(points),
      ]),
    );
    // The mean beyond the middle, by hand from what was tapped.
    const beyondCm = (100 * tapped.reduce((sum, { beyondM }) => sum + beyondM, 0)) / tapped.length;
    const words = await map.locator('.picture-words').textContent();
    // Twelve balls scattered so widely do not show that they land off the middle: the interval is told, and holds the mean.
    const interval = /Not shown that .*: ([\d.]+) cm short to ([\d.]+) cm beyond/.exec(words!);
    expect(beyondCm).toBeGreaterThan(-Number(interval?.[1]));
    expect(beyondCm).toBeLessThan(Number(interval?.[2]));
    for (const width of [390, 820, 1440]) {
      await page.setViewportSize({ width, height: 900 });
      expect(await overflows(page), `${width} px`).toEqual([]);
    }

    await page.goto(`${baseUrl}#/report/mapped`);
    await page.getByText('Where the balls landed').waitFor(SLOW);
    expect(await page.locator('.sheet-plain').textContent()).toMatch(/12 balls seen to land lay/);
    assertNoErrors();
    await context.close();
  }, 240_000);
});
