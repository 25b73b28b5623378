import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import type { SetEvent, SetRecord } from '../../src/core/recording/set-record.ts';
import { launchChromium, openPage } from './launch.ts';
import { saveNewestSet } from './saved-set.ts';
import { fixSeed, recordsOfSeed } from './sent-records.ts';
import { endSet, startSimulatedSet, waitForSwing } from './simulated-set.ts';

const underTest = inject('browserUnderTest');
const SEED = 11;

describe.skipIf(underTest === null)('what happens at the side of a court', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium(chromiumPath);
  });
  afterAll(() => browser.close());

  async function begin() {
    const opened = await openPage(browser);
    await fixSeed(opened.page, SEED);
    await opened.page.addInitScript(HIDE_AND_SHOW);
    await opened.page.goto(baseUrl);
    await startSimulatedSet(opened.page, '4 times');
    return opened;
  }

  it('a call: nothing of the time behind another screen is lost, and the lock on the screen is asked for again', async () => {
    const { page, context, assertNoErrors } = await begin();
    await waitForSwing(page, 1);
    const locks = await locksAsked(page);
    await turn(page, 'hidden');
    const before = await swingOnPad(page);
    // Three swings at least at this speed.
    await page.waitForTimeout(6500);
    expect(await swingOnPad(page), 'nothing is drawn behind another screen').toBe(before);
    await turn(page, 'visible');
    await waitForSwing(page, before + 3);
    expect(await locksAsked(page)).toBe(locks + 1);
    await endSet(page);
    const { records, complete, lostBytes } = await saveNewestSet(page);
    expect({ complete, lostBytes }).toEqual({ complete: true, lostBytes: 0 });
    // what comes last, the end of the set has asked for
    const untilUs = records.at(-1)!.hostTimeUs - 3e6;
    const sent = records.filter(isNotification).filter(({ hostTimeUs }) => hostTimeUs <= untilUs);
    const made = (await recordsOfSeed(SEED, untilUs)).filter(isNotification);
    expect(sent.length).toBeGreaterThan(500);
    expect(sent.map(textOf)).toEqual(made.map(textOf));
    assertNoErrors();
    await context.close();
  });

  it('a double tap says it once; a score for a swing that is then discarded comes back with undo', async () => {
    const { page, context, assertNoErrors } = await begin();
    await waitForSwing(page, 1);
    await page.getByRole('button', { name: '8 points', exact: true }).dblclick();
    await page.getByRole('button', { name: 'Discard' }).click();
    await page.getByText('Discarded. Undo brings it back.').waitFor();
    expect(await page.getByRole('button', { name: '8 points', exact: true }).isDisabled()).toBe(
      true,
    );
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByText('Score swing 1', { exact: true }).waitFor();
    expect(
      await page
        .getByRole('button', { name: '8 points', exact: true })
        .getAttribute('aria-pressed'),
    ).toBe('true');
    await endSet(page);
    const { records } = await saveNewestSet(page);
    expect(records.flatMap(coachWords)).toEqual(['score', 'discarded', 'discard-withdrawn']);
    assertNoErrors();
    await context.close();
  });

  it('a note, and a presenter’s remote, which scores without a look', async () => {
    const { page, context, assertNoErrors } = await begin();
    await waitForSwing(page, 1);
    await page.keyboard.press('PageDown');
    await page.keyboard.press('PageDown');
    await page.keyboard.press('PageDown');
    await page.keyboard.press('PageUp');
    await page.getByRole('button', { name: 'Note' }).click();
    // a digit typed into a note is no score
    await page.getByRole('textbox', { name: 'Note' }).fill('grip 2 slipped');
    await page.getByRole('textbox', { name: 'Note' }).press('1');
    await page.getByRole('button', { name: 'Keep' }).click();
    await endSet(page);
    const { records } = await saveNewestSet(page);
    const events = records.flatMap((record) => (record.kind === 'event' ? [record.event] : []));
    expect(events.flatMap((event) => (event.type === 'score' ? [event.points] : []))).toEqual([
      10, 8, 6, 8,
    ]);
    expect(events).toContainEqual({ type: 'note', text: 'grip 2 slipped1' });
    assertNoErrors();
    await context.close();
  });
});

/** What a phone does to a page behind a call: hidden, no frames; and counts requests for the lock on the screen. */
const HIDE_AND_SHOW = `(() => {
  let isHidden = false;
  let waiting = [];
  const frame = window.requestAnimationFrame.bind(window);
  window.requestAnimationFrame = (draw) => (isHidden ? waiting.push(draw) : frame(draw));
  Object.defineProperty(document, 'hidden', { get: () => isHidden });
  Object.defineProperty(document, 'visibilityState', { get: () => (isHidden ? 'hidden' : 'visible') });
  window.turn = (state) => {
    isHidden = state === 'hidden';
    if (!isHidden) for (const draw of waiting.splice(0)) frame(draw);
    document.dispatchEvent(new Event('visibilitychange'));
  };
  window.locksAsked = 0;
  const request = async () => { window.locksAsked++; return { release: async () => {} }; };
  Object.defineProperty(navigator, 'wakeLock', { value: { request } });
})()`;

async function turn(page: Page, state: 'hidden' | 'visible'): Promise<void> {
  await page.evaluate((to) => (Reflect.get(window, 'turn') as (to: string) => void)(to), state);
}

function locksAsked(page: Page): Promise<number> {
  return page.evaluate(() => Number(Reflect.get(window, 'locksAsked')));
}

async function swingOnPad(page: Page): Promise<number> {
  return Number(
    /Score swing (\d+)/.exec((await page.locator('.pad-line').textContent()) ?? '')?.[1],
  );
}

type Notification = Extract<SetRecord, { kind: 'notification' }>;

function isNotification(record: SetRecord): record is Notification {
  return record.kind === 'notification';
}

function textOf({ segment, bytes }: Notification): string {
  return `${segment} ${Buffer.from(bytes).toString('hex')}`;
}

function coachWords(record: SetRecord): SetEvent['type'][] {
  const said = ['score', 'score-withdrawn', 'discarded', 'discard-withdrawn'];
  return record.kind === 'event' && said.includes(record.event.type) ? [record.event.type] : [];
}
