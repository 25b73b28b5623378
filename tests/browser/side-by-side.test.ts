import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { usualThresholds } from '../../src/core/measures/accuracy-classes.ts';
import { compareConditions } from '../../src/core/measures/comparison.ts';
import type { Kit } from '../../src/core/measures/comparison-measure.ts';
import { type Decision, decide } from '../../src/core/measures/decision.ts';
import type { MeasuredSwing } from '../../src/core/measures/measured-swing.ts';
import { blocksByCondition } from '../../src/core/pipeline/blocks.ts';
import { reviewedSwings } from '../../src/core/pipeline/reviewed-swings.ts';
import { finishedState } from '../exports/demo-set.ts';
import { describedSet } from '../recording/described-set.ts';
import { type DescribedSet, SIDE_BY_SIDE_PLAYERS } from '../worker/side-by-side-players.ts';
import { launchChromium, openPage } from './launch.ts';
import { overflows } from './screen-checks.ts';
import { bringIn } from './weeks-of-sets.ts';

const underTest = inject('browserUnderTest');
/** Sets are read and compared anew, on a machine that may be busy. */
const SLOW = { timeout: 120_000 };
const SIZES = [
  { width: 390, height: 844 },
  { width: 820, height: 1180 },
  { width: 1440, height: 900 },
] as const;

/** What the core says of all swings with either racket, with the seed and draws of the worker. */
function decided(sets: readonly DescribedSet[], current: Kit) {
  const swings: Record<Kit, MeasuredSwing[]> = { smaller: [], larger: [] };
  for (const set of sets) {
    const state = finishedState(set);
    const { conditions } = state.blocks;
    for (const [block] of blocksByCondition(conditions)) {
      const kit = conditions[block!]!.implementLengthM > 0.5 ? 'larger' : 'smaller';
      swings[kit].push(...reviewedSwings(state, block!).filter((swing) => swing !== null));
    }
  }
  const thresholds = usualThresholds(10);
  const comparison = compareConditions(swings, { seed: 1, draws: 1999, thresholds });
  return { comparison, decision: decide(comparison, current) };
}

const HEADS: Readonly<Record<Decision['answer'], RegExp>> = {
  'scale-down': /^Scale down$/,
  'step-up': /^Step up$/,
  stay: /^Stay with [AB]$/,
  'not-enough': /^Not enough yet$/,
};

const filesOf = (sets: readonly DescribedSet[]) => sets.map(({ file }) => file);
const answer = (page: Page) => page.locator('.side-answer');

async function openPlayer(page: Page, baseUrl: string, player: string): Promise<void> {
  await page.goto(`${baseUrl}#/`);
  await page.getByRole('link', { name: 'Side by side' }).click(SLOW);
  await page.getByRole('link', { name: player }).click(SLOW);
  await answer(page).waitFor(SLOW);
}

describe.skipIf(underTest === null)('Side by side', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium(chromiumPath);
  });
  afterAll(() => browser.close());

  const players = [
    { player: 'Player Scale', current: 'larger', truth: 'scale-down' },
    { player: 'Player Step', current: 'smaller', truth: 'step-up' },
    { player: 'Player Thin', current: 'larger', truth: 'not-enough' },
  ] as const;

  it.each(players)('$player: $truth, as the core says from the same files', async (example) => {
    const { player, current, truth } = example;
    const sets = SIDE_BY_SIDE_PLAYERS[player]();
    const { page, context, assertNoErrors } = await openPage(browser);
    await bringIn(page, baseUrl, filesOf(sets));
    await openPlayer(page, baseUrl, player);
    const { comparison, decision } = decided(sets, current);
    expect(decision.answer).toBe(truth);
    expect(await answer(page).getByRole('heading', { level: 2 }).textContent()).toMatch(
      HEADS[truth],
    );
    // the shorter racket is A
    const { score, speed } = comparison.measures;
    const shown = (name: string) =>
      page.locator(`#measure-${name}`).locator('dd').allTextContents();
    expect(await shown('score')).toEqual(
      [score.smaller, score.larger].map((x) => `${(x as number).toFixed(1)} points`),
    );
    expect(await shown('speed')).toEqual(
      [speed.smaller, speed.larger].map((x) => `${(x as number).toFixed(1)} m/s`),
    );
    if (decision.moreSwings !== null)
      expect(await answer(page).textContent()).toContain(`${decision.moreSwings} more swings`);
    for (const size of SIZES) {
      await page.setViewportSize(size);
      expect(await overflows(page), String(size.width)).toEqual([]);
    }
    assertNoErrors();
    await context.close();
  });

  it('answers anew when the coach says what is played, and says what sets of two days cannot tell', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await bringIn(page, baseUrl, filesOf(SIDE_BY_SIDE_PLAYERS['Player Step']()));
    await openPlayer(page, baseUrl, 'Player Step');
    expect(await page.locator('.side-cautions').textContent()).toMatch(/different days/);
    await page.getByRole('group', { name: 'Played with now' }).getByText('B').click();
    await answer(page).getByRole('heading', { name: 'Stay with B' }).waitFor();
    await page.getByText('All numbers').click();
    expect(await page.locator('.side-part .picture-table tbody tr').count()).toBe(9);
    const side = page.getByRole('region', { name: 'Side B' });
    await side.locator('summary').click();
    await side.getByRole('checkbox').uncheck();
    await page.getByText('No set is chosen for B').waitFor();
    expect(await answer(page).count()).toBe(0);
    assertNoErrors();
    await context.close();
  });

  it('lists the newest twenty sets, all on demand, and those of one player', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    const files = Array.from(
      { length: 23 },
      (_, i) =>
        describedSet(
          { swings: 0 },
          {
            setId: `set-${i}`,
            player: i === 1 ? 'Player Old' : 'Player New',
            startedAtMs: i * 864e5,
          },
        ).file,
    );
    await bringIn(page, baseUrl, files);
    await page.goto(`${baseUrl}#/`);
    const lines = page.locator('.set-line');
    await page.getByRole('button', { name: 'Show all 23' }).waitFor(SLOW);
    expect(await lines.count()).toBe(20);
    await page.getByLabel('Only sets of the player').fill('old');
    await page.getByText('Player Old').waitFor();
    expect(await lines.count()).toBe(1);
    await page.getByLabel('Only sets of the player').fill('nobody');
    await page.getByText('No player of that name.').waitFor();
    await page.getByLabel('Only sets of the player').fill('');
    await page.getByRole('button', { name: 'Show all 23' }).click();
    expect(await lines.count()).toBe(23);
    assertNoErrors();
    await context.close();
  });
});
