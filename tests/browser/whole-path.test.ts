import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import type { StoredSet } from '../../src/core/recording/set-reader.ts';
import { launchChromium, openPage, type View } from './launch.ts';
import { playBlocks } from './play-blocks.ts';
import { saveNewestSet } from './saved-set.ts';
import { endSet } from './simulated-set.ts';

const underTest = inject('browserUnderTest');
const VIEWS: readonly View[] = [
  { width: 390, height: 844, colorScheme: 'light' },
  { width: 820, height: 1180, colorScheme: 'dark' },
  { width: 1440, height: 900, colorScheme: 'light' },
];

describe.skipIf(underTest === null)('from first visit to a saved set', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium(chromiumPath);
  });
  afterAll(() => browser.close());

  it.concurrent.each(VIEWS)(
    'of forty simulated swings in four blocks with two kits, at $width x $height',
    async (view) => {
      const { page, context, assertNoErrors } = await openPage(browser, view);
      await page.goto(baseUrl);
      await page.getByRole('button', { name: /Simulated player/ }).click();
      await page.getByText(/four blocks/i).click();
      await page.getByText('4 times').click();
      await page.getByRole('button', { name: 'Start simulated set' }).click();
      const said = await playBlocks(page, 4);
      await endSet(page);
      const stored = await saveNewestSet(page);
      expect(stored).toMatchObject({ complete: true, lostBytes: 0, skippedRecords: 0 });
      expectFortySwings(stored, said);
      assertNoErrors();
      await context.close();
    },
    300_000,
  );
});

/** Ten a block, ABBA, each with a reach of its own implement and the points that were tapped. */
function expectFortySwings({ description, records }: StoredSet, said: Map<number, number>): void {
  const state = createPipeline(description);
  for (const record of records) stepPipeline(state, record);
  const { blocks, swings } = viewPipeline(state);
  const [a, b] = ['580 mm racket', '685 mm racket'];
  expect(blocks.map(({ implement }) => implement)).toEqual([a, b, b, a]);
  const struck = swings.filter(({ swing }) => swing.voidReason !== 'air-swing');
  expect(struck.map(({ block }) => block)).toEqual(
    [0, 1, 2, 3].flatMap((block) => new Array<number>(10).fill(block)),
  );
  // on a slow machine now and then a swing is over before the coach has tapped
  expect(said.size).toBeGreaterThan(30);
  expect(struck.map(({ points }) => points)).toEqual(
    struck.map(({ swing }) => said.get(swing.index + 1) ?? null),
  );
  const reaches = (block: number): number[] =>
    struck
      .filter((scored) => scored.block === block && scored.swing.voidReason === null)
      .map(({ swing }) => swing.reachM);
  for (const block of [0, 1, 2, 3]) expect(reaches(block).length).toBeGreaterThanOrEqual(9);
  // kit.ts: the full racket's sweet spot lies 10 cm further from the wrist
  const mean = (values: number[]) => values.reduce((sum, x) => sum + x, 0) / values.length;
  expect(mean(reaches(1)) - mean(reaches(0))).toBeGreaterThan(0.05);
}
