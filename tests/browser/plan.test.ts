import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import {
  beginSensorSet,
  beginSensorSetAgain,
  confirmAndBegin,
  enterPlan,
  enterPlayer,
  pretendBluetooth,
} from './begin-sensor-set.ts';
import { launchChromium, openPage, type View } from './launch.ts';
import { LONG_NAMES } from './screen-names.ts';

const underTest = inject('browserUnderTest');
const SIZES: readonly View[] = [
  { width: 390, height: 844, colorScheme: 'light' },
  { width: 820, height: 1180, colorScheme: 'dark' },
  { width: 1440, height: 900, colorScheme: 'light' },
];

describe.skipIf(underTest === null)('from the Start screen to the court', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium(chromiumPath);
  });
  afterAll(() => browser.close());

  async function openStart(view?: View) {
    const opened = await openPage(browser, view);
    await pretendBluetooth(opened.page);
    await opened.page.goto(baseUrl);
    return opened;
  }

  it('a first visit needs consent and cautions; the next set is three taps', async () => {
    const { page, context, assertNoErrors } = await openStart();
    await enterPlayer(page);
    const consent = page.getByLabel('Player and parent agree');
    await consent.uncheck();
    await page.getByText('Without consent no set can begin').waitFor();
    await page.getByRole('button', { name: 'Save without consent' }).click();
    await page.getByText('no consent yet').waitFor();
    await page.getByRole('button', { name: /^Player Z/ }).click();
    expect(await page.getByLabel('Shoulder to elbow').inputValue()).toBe('24.7');
    await consent.check();
    await enterPlan(page);

    await page.getByRole('button', { name: 'Go to the court' }).click();
    expect(await page.evaluate(() => location.hash)).toBe('#/plan');
    await confirmAndBegin(page);
    await page.getByRole('button', { name: 'Connect forearm', exact: true }).waitFor();

    await page.goto(`${baseUrl}#/`);
    await page.reload();
    await beginSensorSetAgain(page);
    await page.getByRole('button', { name: 'Connect forearm', exact: true }).waitFor();
    assertNoErrors();
    await context.close();
  });

  it('two kits are ordered as chosen, and the whole plan is kept for the next set', async () => {
    const { page, context, assertNoErrors } = await openStart();
    await enterPlayer(page);
    await enterPlan(page);
    await page.getByRole('button', { name: 'Add a kit' }).click();
    const implement = page.getByLabel('Implement', { exact: true });
    await implement.nth(1).fill('short racket');
    expect(await page.getByLabel('Wrist to sweet spot').nth(1).inputValue()).toBe('45');
    await page.getByText('Kits A and B are the same').waitFor();
    await page.getByLabel('Ball', { exact: true }).nth(1).fill('standard ball');
    await page.getByText('Kits A and B are the same').waitFor({ state: 'detached' });
    await page.getByText('8 blocks, 80 swings').click();
    await page.getByRole('button', { name: 'Fewer: Blocks with each kit' }).dblclick();
    await orderIs(page, 'A B B A');
    await page.getByText('As listed').click();
    await orderIs(page, 'A B A B');
    await page.getByText('Scored by eye').first().click();
    await page.getByText('A taped box').click();
    await page.getByLabel('Depth, away from the player').fill('0.8');
    await page.getByText('Nothing is told').click();
    await page.getByText('A tone').click();
    expect(await page.getByLabel('Only off the band').isDisabled()).toBe(true);
    await page.getByRole('group', { name: 'Kit A' }).getByLabel('Reach hoped for').fill('88.5');
    await page.getByLabel('Only off the band').check();
    await page.getByLabel('Ever less often').check();
    await confirmAndBegin(page);
    await page.getByRole('button', { name: 'Connect forearm', exact: true }).waitFor();
    const kept = await page.evaluate(() => JSON.parse(localStorage.getItem('last-plan') ?? ''));
    expect(kept).toMatchObject({
      plan: {
        conditions: [
          { sweetSpotBand: { reachM: 0.885, halfWidthM: 0.03 } },
          { sweetSpotBand: null },
        ],
        blocks: [0, 1, 0, 1],
        order: 'as-listed',
        target: { widthM: 1.5, depthM: 0.8, stepM: 0.5 },
        feedback: { cue: 'tone', isOnlyOffBand: true, isFading: true },
      },
    });
    assertNoErrors();
    await context.close();
  });

  it('a field that is wrong in a closed part of the plan is opened', async () => {
    const { page, context, assertNoErrors } = await openStart();
    await enterPlayer(page);
    await enterPlan(page);
    await page.getByLabel('Wrist to sweet spot').fill('');
    await page.getByText('short racket, training ball').click();
    expect(await page.getByLabel('Wrist to sweet spot').isVisible()).toBe(false);
    await confirmAndBegin(page);
    await page.getByLabel('Wrist to sweet spot').waitFor();
    expect(await page.evaluate(() => location.hash)).toBe('#/plan');
    assertNoErrors();
    await context.close();
  });

  it('a plan without a player leads to the players, and a running set is not left behind', async () => {
    const { page, context, assertNoErrors } = await openStart();
    await page.goto(`${baseUrl}#/plan`);
    await page.getByRole('link', { name: 'Choose the player' }).click();
    await page.getByRole('heading', { name: 'New player' }).waitFor();
    await page.goto(`${baseUrl}#/`);
    await beginSensorSet(page);
    await page.getByRole('button', { name: 'Connect forearm', exact: true }).waitFor();
    await page.goto(`${baseUrl}#/plan`);
    await page.getByRole('link', { name: 'Back to the running set' }).waitFor();
    expect(await page.getByRole('button', { name: 'Go to the court' }).count()).toBe(0);
    assertNoErrors();
    await context.close();
  });

  it('a player is deleted for good, without any set of theirs', async () => {
    const { page, context, assertNoErrors } = await openStart();
    await enterPlayer(page);
    await page.getByRole('button', { name: 'Save, then plan' }).click();
    await page.goto(`${baseUrl}#/player`);
    await page.getByRole('button', { name: 'Edit Player Z' }).click();
    await page.getByRole('button', { name: 'Delete player' }).click();
    await page.getByRole('button', { name: 'With all sets, for good?' }).click();
    await page.getByRole('heading', { name: 'New player' }).waitFor();
    await page.reload();
    await page.getByRole('heading', { name: 'New player' }).waitFor();
    assertNoErrors();
    await context.close();
  });

  it.each(SIZES)('names of 40 characters fit into $width x $height', async (view) => {
    const { page, context, assertNoErrors } = await openStart(view);
    expect(LONG_NAMES.player).toHaveLength(40);
    await enterPlayer(page, LONG_NAMES);
    await fits(page);
    await enterPlan(page, LONG_NAMES);
    for (const part of ['Blocks', 'Task', 'Feedback']) {
      await page.getByRole('heading', { name: part }).click();
    }
    await page.getByText('A taped box').click();
    await page.getByText('A tone').click();
    await fits(page);
    await page.goto(`${baseUrl}#/player`);
    await page.getByRole('button', { name: new RegExp(`^${LONG_NAMES.player}`) }).waitFor();
    await fits(page);
    assertNoErrors();
    await context.close();
  });
});

async function orderIs(page: Page, letters: string): Promise<void> {
  await page.getByRole('img', { name: `Order of blocks: ${letters}`, exact: true }).waitFor();
}

/** Nothing is wider than the page, nothing to be tapped is less than 48 px high. */
async function fits(page: Page): Promise<void> {
  const found = await page.evaluate(() => {
    const wide = document.documentElement.scrollWidth > innerWidth ? ['the page'] : [];
    const low = [...document.querySelectorAll('button, a, summary, label:has(input)')]
      .filter((element) => element.checkVisibility() && element.getBoundingClientRect().height < 48)
      .map((element) => element.textContent);
    return [...wide, ...low];
  });
  expect(found).toEqual([]);
}
