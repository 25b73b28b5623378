import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { decideSets } from '../../src/batch/decide-sets.ts';
import { DEMO_PLAYERS, setsOf } from '../../src/batch/demo-players.ts';
import type { Decision } from '../../src/core/measures/decision.ts';
import { readSet } from '../../src/core/recording/set-reader.ts';
import { describedSet } from '../recording/described-set.ts';
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

/** The files of an invented player, and what the core says of all their swings. */
function recorded(player: string) {
  const demo = DEMO_PLAYERS.find((one) => one.player === player)!;
  const files = setsOf(demo).map(({ name }) => readFileSync(`recorded-streams/${name}.mcap`));
  const sets = files.map((file) => {
    const result = readSet(file);
    if (!result.ok) throw new Error(result.error.message);
    return result.set;
  });
  return { files, answer: demo.answer, ...decideSets(sets) };
}

const HEADS: Readonly<Record<Decision['answer'], RegExp>> = {
  'scale-down': /^Scale down$/,
  'step-up': /^Step up$/,
  stay: /^Stay$/,
  'not-enough': /^Not enough yet$/,
};

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

  const players = DEMO_PLAYERS.map(({ player }) => player);

  it.each(players)('%s: the answer that the core gives from the same files', async (player) => {
    const { files, comparison, decision, answer: truth } = recorded(player);
    const { page, context, assertNoErrors } = await openPage(browser);
    await bringIn(page, baseUrl, files);
    await openPlayer(page, baseUrl, player);
    expect(decision.answer).toBe(truth);
    expect(await answer(page).getByRole('heading', { level: 2 }).textContent()).toMatch(
      HEADS[truth],
    );
    // the shorter racket is A
    for (const [name, unit] of [
      ['score', 'points'],
      ['speed', 'm/s'],
    ] as const) {
      const shown = await page.locator(`#measure-${name}`).locator('dd').allTextContents();
      // with one decimal, or two where their rounded difference asks for it
      const digits = /^\d+\.(\d\d?) /.exec(shown[0]!)![1]!.length;
      const { smaller, larger } = comparison.measures[name];
      expect(shown).toEqual(
        [smaller, larger].map((x) => `${(x as number).toFixed(digits)} ${unit}`),
      );
    }
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
    const player = 'Player C (invented)';
    await bringIn(page, baseUrl, recorded(player).files);
    await openPlayer(page, baseUrl, player);
    const cautions = page.locator('.side-cautions');
    expect(await cautions.textContent()).toMatch(/Several days are taken together/);
    const parts = page.locator('.sides, .side-answer, .side-questions, .side-part');
    const order = await parts.evaluateAll((all) => all.map(({ className }) => className));
    expect(order.slice(0, 3)).toEqual(['sides', 'side-answer', 'side-questions']);
    await page
      .getByRole('group', { name: 'Which does the player use now?' })
      .getByText('B: 685 mm racket')
      .click();
    await answer(page).getByText('Stay with: 685 mm racket').waitFor();
    await page.getByText('All numbers', { exact: true }).click();
    expect(await page.locator('.all-numbers tbody tr').count()).toBe(9);
    const ticks = (side: 'A' | 'B') =>
      page.getByRole('region', { name: `Side ${side}` }).getByRole('checkbox');
    for (const side of ['A', 'B'] as const)
      await page
        .getByRole('region', { name: `Side ${side}` })
        .locator('summary')
        .click();
    await ticks('A').nth(0).uncheck();
    await ticks('B').nth(1).uncheck();
    await cautions.filter({ hasText: 'different days' }).waitFor(SLOW);
    await ticks('B').nth(0).uncheck();
    await page.getByText('No set is chosen for B').waitFor();
    expect(await answer(page).count()).toBe(0);
    const sideA = page.getByRole('region', { name: 'Side A' });
    const kits = sideA.getByRole('combobox', { name: 'Condition of A' });
    const [first, other] = await kits.locator('option').allTextContents();
    const shown = await sideA.locator('b').textContent();
    await kits.selectOption(first!.startsWith(shown!) ? other! : first!);
    await expect.poll(() => sideA.locator('b').textContent()).not.toBe(shown);
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
    await expect.poll(() => lines.count()).toBe(23);
    assertNoErrors();
    await context.close();
  });
});
