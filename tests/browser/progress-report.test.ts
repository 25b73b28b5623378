import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import type { ReviewedMeasures } from '../../src/core/measures/measure-set.ts';
import { measureReviewed } from '../../src/core/pipeline/review.ts';
import { finishedState } from '../exports/demo-set.ts';
import { answered } from '../statistics/answers.ts';
import { launchChromium, openPage, type View } from './launch.ts';
import { axeViolations, overflows, smallTargets } from './screen-checks.ts';
import { LONG_NAMES } from './screen-names.ts';
import { bringIn, setOfTwoKits, weeksOfSets } from './weeks-of-sets.ts';

const underTest = inject('browserUnderTest');
/** Sets are read and computed anew, on a machine that may be busy. */
const SLOW = { timeout: 120_000 };
const VIEWS: readonly View[] = [
  { width: 390, height: 844, colorScheme: 'light' },
  { width: 820, height: 1180, colorScheme: 'dark' },
  { width: 1440, height: 900, colorScheme: 'light' },
];

/** Objects of type Page; their catalogue is of type Pages. */
const pagesOf = (pdf: Buffer): number =>
  pdf.toString('latin1').match(/\/Type\s*\/Page(?!s)/g)?.length ?? 0;

async function expectFits(page: Page): Promise<void> {
  for (const { width, height, colorScheme } of VIEWS) {
    await page.setViewportSize({ width, height });
    await page.emulateMedia({ colorScheme });
    expect(await overflows(page), `${width} px`).toEqual([]);
    expect(await smallTargets(page), `${width} px`).toEqual([]);
  }
  expect(await axeViolations(page)).toEqual([]);
}

/** As long as the report's longest sentences. */
const SENTENCE =
  'Not enough yet to say which kit serves this player better: the numbers speak for both, and more swings like these are not known to settle it at all.';

/** Puts three more sentences into the words of the plain page, and five to how sure it is. */
async function lengthen(page: Page): Promise<void> {
  await page.locator('.sheet-plain').evaluate((sheet, sentence) => {
    sheet.classList.add('sheet-long');
    for (const [place, more] of [
      ['.sheet-words', 3],
      ['.sheet-pictures section', 5],
    ] as const) {
      for (let i = 0; i < more; i++) {
        const paragraph = document.createElement('p');
        paragraph.textContent = sentence;
        sheet.querySelector(place)?.append(paragraph);
      }
    }
  }, SENTENCE);
}

async function openReport(page: Page, baseUrl: string, setId: string): Promise<void> {
  await page.goto(`${baseUrl}#/report/${setId}`);
  await page.locator('.sheet-numbers').waitFor(SLOW);
}

describe.skipIf(underTest === null)('Progress and Report', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium(chromiumPath);
  });
  afterAll(() => browser.close());

  it('Progress shows each day as the core reads it, and claims no trend in a player who has none', async () => {
    const weeks = weeksOfSets(6, { player: 'Heron' }, 10);
    const { page, context, assertNoErrors } = await openPage(browser);
    await bringIn(
      page,
      baseUrl,
      weeks.map(({ file }) => file),
    );
    await page.goto(`${baseUrl}#/progress`);
    await page.getByRole('link', { name: 'Heron' }).click(SLOW);
    await page.locator('.progress-grid').waitFor(SLOW);
    const spread = page.locator('#picture-weeks-spread');
    expect(await spread.locator('.picture-words').textContent()).toMatch(/^No steady rise or fall/);
    await spread.getByText('Numbers and files').click();
    const cells = spread.locator('.picture-table tbody tr').nth(0).locator('td');
    const measures: ReviewedMeasures = Object.assign(
      {},
      ...measureReviewed(finishedState(weeks[0]!), { seed: 1, resamples: 100 }),
    );
    const spreadM = answered(measures.reach.spreadM).value;
    expect((await cells.allTextContents()).slice(1, 4)).toEqual([
      '1',
      '10',
      (100 * spreadM).toFixed(2),
    ]);
    const download = page.waitForEvent('download');
    await spread.getByRole('button', { name: 'CSV' }).click();
    const csv = readFileSync((await (await download).path())!, 'utf8');
    expect(csv.split('\r\n')).toHaveLength(6 + 2);
    expect(await page.locator('main').innerHTML()).not.toMatch(/NaN|Infinity|undefined/);
    await expectFits(page);
    assertNoErrors();
    await context.close();
  }, 300_000);

  it('Report is two pages on A4 and on Letter, also with two kits and long names, light ink from a dark screen', async () => {
    const sets = [...weeksOfSets(1, { player: 'Heron' }, 10), setOfTwoKits(LONG_NAMES)];
    const { page, context, assertNoErrors } = await openPage(browser);
    await bringIn(
      page,
      baseUrl,
      sets.map(({ file }) => file),
    );
    for (const setId of ['week-1', 'two-kits']) {
      await openReport(page, baseUrl, setId);
      await expectFits(page);
      await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
      const ink = await page
        .locator('.sheet h2')
        .first()
        .evaluate((element) => getComputedStyle(element).color);
      expect(ink).toBe('rgb(14, 23, 27)');
      await page.emulateMedia({ media: null, colorScheme: 'dark' });
      for (const format of ['A4', 'Letter'] as const)
        expect(pagesOf(await page.pdf({ format })), `${setId} ${format}`).toBe(2);
      // Left-out swings, drifts and a kit with something for and against it say more than these sets do.
      await lengthen(page);
      for (const format of ['A4', 'Letter'] as const)
        expect(pagesOf(await page.pdf({ format })), `${setId} ${format}, lengthened`).toBe(2);
    }
    assertNoErrors();
    await context.close();
  }, 300_000);

  it('Report says what the core says, of the condition chosen, and is saved as text', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    const set = setOfTwoKits({ player: 'Heron' });
    await bringIn(page, baseUrl, [set.file]);
    await openReport(page, baseUrl, 'two-kits');
    const state = finishedState(set);
    const expected = (block: number): string => {
      const parts = measureReviewed(state, { seed: 1, resamples: 100 }, block);
      const { reach }: ReviewedMeasures = Object.assign({}, ...parts);
      return `Here it was ${(100 * answered(reach.meanM).value).toFixed(1)} cm on average`;
    };
    const plain = page.locator('.sheet-plain');
    expect(await plain.textContent()).toContain(expected(0));
    expect(await plain.textContent()).toContain('These are the swings of this set alone');
    await page.getByText('685 mm racket, standard ball · blocks').click();
    await page.getByText(expected(1)).waitFor(SLOW);
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save as text' }).click();
    const text = readFileSync((await (await download).path())!, 'utf8');
    expect(text).toMatch(/^Set two-kits/);
    expect(await page.locator('main').innerHTML()).not.toMatch(/NaN|Infinity|undefined/);
    assertNoErrors();
    await context.close();
  }, 300_000);
});
