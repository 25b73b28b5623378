import { readFileSync } from 'node:fs';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import type { ReviewedMeasures } from '../../src/core/measures/measure-set.ts';
import { stepPipeline } from '../../src/core/pipeline/pipeline.ts';
import { measureReviewed, reviewPipeline } from '../../src/core/pipeline/review.ts';
import { traceSwing } from '../../src/core/pipeline/swing-trace.ts';
import { firstCondition } from '../../src/core/recording/conditions.ts';
import { readSet } from '../../src/core/recording/set-reader.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { isUnavailable } from '../../src/core/statistics/estimate.ts';
import { finishedState } from '../exports/demo-set.ts';
import { simulatedSet } from '../pipeline/simulated-set.ts';
import { setFile } from '../recording/sample-set.ts';
import { launchChromium, openPage, type View } from './launch.ts';
import { axeViolations, overflows, smallTargets } from './screen-checks.ts';

const underTest = inject('browserUnderTest');
/** A file is read and computed anew, on a machine that may be busy. */
const SLOW = { timeout: 60_000 };
const DEMO = readFileSync('recorded-streams/player-a-short-racket.mcap');

/** The demo set as the core reads it in Node, with the seed of the worker. */
function demoSet() {
  const result = readSet(DEMO);
  if (!result.ok) throw new Error(result.error.message);
  return result.set;
}

function measuresOf(state: ReturnType<typeof finishedState>, block?: number): ReviewedMeasures {
  return Object.assign({}, ...measureReviewed(state, { seed: 1 }, block));
}

async function openSet(page: Page, baseUrl: string, bytes: Uint8Array): Promise<void> {
  await page.goto(`${baseUrl}#/storage`);
  await page.locator('input[type=file]').setInputFiles({
    name: 'set.mcap',
    mimeType: 'application/octet-stream',
    buffer: Buffer.from(bytes),
  });
  await page.getByText('1 set brought in').waitFor(SLOW);
  await page.goto(`${baseUrl}#/`);
  await page.locator('.set-line a').first().click(SLOW);
  await page.locator('.swing-table').waitFor(SLOW);
  await measured(page);
}

const measured = (page: Page) => page.locator('.set-pictures[aria-busy="false"]').waitFor(SLOW);
const picture = (page: Page, id: string) => page.locator(`#picture-${id}`);

async function showNumbers(of: Locator): Promise<void> {
  await of.getByText('Numbers and files').click();
  await of.locator('.picture-table').waitFor();
}

/** The cells of a row of a picture's numbers. */
const cells = (of: Locator, row: number) =>
  of.locator('.picture-table tbody tr').nth(row).locator('td').allTextContents();

async function saved(page: Page, button: Locator) {
  const download = page.waitForEvent('download', SLOW);
  await button.click();
  const file = await download;
  return { name: file.suggestedFilename(), bytes: readFileSync((await file.path())!) };
}

describe.skipIf(underTest === null)('Reading', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium(chromiumPath);
  });
  afterAll(() => browser.close());

  it('says in short what is asked first, and leads to its picture', async () => {
    const { page, context, assertNoErrors } = await openPage(browser); // a phone
    await openSet(page, baseUrl, DEMO);
    const lines = page.getByRole('region', { name: 'In short' }).getByRole('button');
    expect(await lines.count()).toBe(3);
    for (const [n, id] of ['funnel', 'sweet-spot', 'shares'].entries()) {
      const words = await picture(page, id).locator('.picture-words').textContent();
      expect(await lines.nth(n).textContent()).toBe(`${words} Show the picture.`);
      await lines.nth(n).click();
      const top = () => picture(page, id).evaluate((shown) => shown.getBoundingClientRect().top);
      await expect.poll(async () => Math.abs(await top())).toBeLessThan(100);
      const focused = page.locator('h3:focus');
      expect(await focused.getAttribute('id')).toBe(`picture-${id}-title`);
    }
    await context.close();
    assertNoErrors();
  });

  it('says and shows what the core computes in Node from the same file', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await openSet(page, baseUrl, DEMO);
    const state = finishedState(demoSet());
    const measures = measuresOf(state);
    const { swings } = reviewPipeline(state);
    const { arm, funnel, sweetSpot, order } = measures;
    const said: readonly (readonly [string, string])[] = [
      ['funnel', funnel.verdict.words],
      ['sweet-spot', sweetSpot.verdict.words],
      ['shares', arm.verdicts.share.words],
      ['coupling', arm.verdicts.coupling.words],
      ['order', order.reach.verdict.words],
    ];
    for (const [id, words] of said)
      expect(await picture(page, id).locator('.picture-words').textContent(), id).toBe(words);
    const reaches = await page.locator('.swing-reach').allTextContents();
    expect(reaches.map((text) => text.split(' ')[0])).toEqual(
      swings.map(({ swing }) => (100 * swing.reachM).toFixed(1)),
    );

    const { band, table } = funnel.evidence!;
    const cm = (metres: number, digits = 2) => (100 * metres).toFixed(digits);
    await showNumbers(picture(page, 'funnel'));
    expect(await cells(picture(page, 'funnel'), 100)).toEqual([
      '100',
      cm(table.funnel.meanM[100]!, 1),
      cm(table.funnel.spreadM[100]!),
      cm(band.lowM[100]!),
      cm(band.highM[100]!),
      cm(table.funnel.floorM[100]!),
    ]);
    const { timed } = funnel.evidence!;
    if (isUnavailable(timed)) throw new Error(timed.reason);
    await picture(page, 'funnel').getByText('milliseconds', { exact: true }).click();
    await showNumbers(picture(page, 'funnel'));
    const [before, mean, spread, low] = await cells(picture(page, 'funnel'), 0);
    expect([before, mean, spread, low]).toEqual([
      `−${(1000 * timed.table.beforeContactS[0]!).toFixed(0)}`,
      cm(timed.table.funnel.meanM[0]!, 1),
      cm(timed.table.funnel.spreadM[0]!),
      cm(timed.band.lowM[0]!),
    ]);

    const { shares } = arm;
    if (isUnavailable(shares)) throw new Error(shares.reason);
    await showNumbers(picture(page, 'shares'));
    const percent = shares.wholeSwing.signed.map((share) =>
      isUnavailable(share) ? '–' : (100 * share.value).toFixed(0).replace('-', '−'),
    );
    const whole = await cells(picture(page, 'shares'), 10);
    expect([whole[1], whole[4], whole[7]]).toEqual(percent);
    expect(await page.locator('main').innerHTML()).not.toMatch(/NaN|Infinity|undefined/);
    assertNoErrors();
    await context.close();
  }, 240_000);

  it('moving contact by keys changes reach as the core says, and undo restores it', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await openSet(page, baseUrl, DEMO);
    const reach = () => page.locator('.swing-reach').nth(2).textContent();
    const before = await reach();
    const wordsBefore = await page.locator('.set-words').textContent();
    await page.getByRole('button', { name: 'Open swing 3', exact: true }).click();
    const contact = page.getByRole('slider', { name: 'Contact of the swing' });
    await contact.waitFor(SLOW);
    await contact.focus();
    for (let press = 0; press < 6; press++) await page.keyboard.press('ArrowLeft');
    await page.getByRole('button', { name: 'Use these ends' }).click();
    await expect.poll(reach, SLOW).not.toBe(before);
    await measured(page);

    const state = finishedState(demoSet());
    const { found } = traceSwing(state, 2)!;
    const event = {
      type: 'ends-moved',
      contactTimeUs: found.contactUs,
      startsAtUs: found.startUs,
      endsAtUs: found.contactUs - 30_000,
    } as const;
    stepPipeline(state, { kind: 'event', hostTimeUs: 1e9, event });
    const { swing } = reviewPipeline(state).swings[2]!;
    expect(await reach()).toBe(
      `${(100 * swing.reachM).toFixed(1)} ± ${(100 * swing.reachStandardErrorM).toFixed(1)}`,
    );
    await page.getByRole('button', { name: 'As they were found' }).waitFor(SLOW);
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(reach, SLOW).toBe(before);
    await measured(page);
    expect(await page.locator('.set-words').textContent()).toBe(wordsBefore);

    // By pointer: the start follows the finger, and nothing is changed until it is kept.
    const start = page.getByRole('slider', { name: 'Start of the swing' });
    await start.scrollIntoViewIfNeeded();
    const at = async () => Number(await start.getAttribute('aria-valuenow'));
    const startedAt = await at();
    const box = (await start.boundingBox())!;
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 40, y, { steps: 4 });
    await page.mouse.up();
    expect(await at()).toBeGreaterThan(startedAt + 20);
    await page.getByRole('button', { name: 'Leave them' }).click();
    expect(await at()).toBe(startedAt);

    // The arm through the swing: its reach at the last instant is that of the trace.
    const place = page.getByRole('slider', { name: 'Place in the swing' });
    const lastReach = await place.getAttribute('aria-valuetext');
    await place.fill((await place.getAttribute('min'))!);
    expect(await place.getAttribute('aria-valuetext')).not.toBe(lastReach);
    assertNoErrors();
    await context.close();
  }, 240_000);

  it('saves each picture as real PNG, SVG and CSV', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await openSet(page, baseUrl, DEMO);
    const funnel = picture(page, 'funnel');
    await showNumbers(funnel);
    const save = (kind: string) => saved(page, funnel.getByRole('button', { name: kind }));
    const png = await save('PNG');
    expect(png.name).toBe('player-a-short-racket-funnel.png');
    // PNG signature, then IHDR with width and height: twice the drawing.
    expect([...png.bytes.subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
    expect(png.bytes.readUInt32BE(16)).toBeGreaterThan(600);
    expect(png.bytes.length, 'something is drawn').toBeGreaterThan(8000);
    const svg = (await save('SVG')).bytes.toString();
    expect(svg).not.toContain('var(');
    const root = await page.evaluate((text) => {
      const parsed = new DOMParser().parseFromString(text, 'image/svg+xml');
      return [parsed.documentElement.localName, parsed.querySelector('title')?.textContent];
    }, svg);
    expect(root[0]).toBe('svg');
    expect(root[1]).toContain(await funnel.locator('.picture-words').textContent());
    const csv = (await save('CSV')).bytes.toString().trimEnd().split('\r\n');
    expect(csv).toHaveLength(102);
    const { spreadM } = reviewPipeline(finishedState(demoSet())).funnel;
    expect(Number(csv[101]!.split(',')[2])).toBeCloseTo(100 * spreadM[100]!, 9);
    assertNoErrors();
    await context.close();
  }, 240_000);

  it('reads each condition of a set by itself', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    const { description, records } = demoSet();
    const state = finishedState({ description, records });
    const atUs = state.swings[11]!.cut.contact.timeUs + 5e5;
    const condition = { ...firstCondition(description), ball: 'another ball' };
    const began: SetRecord = {
      kind: 'event',
      hostTimeUs: atUs,
      event: { type: 'block-began', condition },
    };
    const all = [
      ...records.filter(({ hostTimeUs }) => hostTimeUs < atUs),
      began,
      ...records.filter(({ hostTimeUs }) => hostTimeUs >= atUs),
    ];
    await openSet(page, baseUrl, setFile(all, description));
    const caption = () => page.locator('.swing-table caption').textContent();
    const words = () => picture(page, 'funnel').locator('.picture-words').textContent();
    const both = finishedState({ description, records: all });
    expect(await caption()).toMatch(/^8 swings/);
    expect(await words()).toBe(measuresOf(both, 1).funnel.verdict.words);
    await page.getByText(/block 1, 12 swings/).click();
    await expect.poll(caption, SLOW).toMatch(/^12 swings/);
    await measured(page);
    expect(await words()).toBe(measuresOf(both, 0).funnel.verdict.words);
    assertNoErrors();
    await context.close();
  }, 240_000);

  it('too few swings give reasons in place of pictures, a hundred rows at first in place of all', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    const few = simulatedSet({ swings: 4 });
    await openSet(page, baseUrl, setFile(few.records, few.session.description));
    expect(await picture(page, 'funnel').locator('.picture-words').textContent()).toMatch(
      /4 of at least 10 swings\. About 6 more swings are needed\./,
    );
    expect(await picture(page, 'shares').locator('svg').count(), 'no empty frame').toBe(0);
    expect(await page.locator('main').innerHTML()).not.toMatch(/NaN|Infinity|undefined/);
    await context.close();

    const fresh = await openPage(browser);
    const many = simulatedSet({ swings: 104, swingIntervalS: 2.5 });
    await openSet(fresh.page, baseUrl, setFile(many.records, many.session.description));
    const rows = fresh.page.locator('.swing-table tbody tr');
    expect(await rows.count()).toBe(100);
    await fresh.page.getByRole('button', { name: /Show all 10\d swings/ }).click();
    expect(await rows.count()).toBeGreaterThan(100);
    fresh.assertNoErrors();
    assertNoErrors();
    await fresh.context.close();
  }, 300_000);

  const VIEWS: readonly View[] = [
    { width: 390, height: 844, colorScheme: 'light' },
    { width: 820, height: 1180, colorScheme: 'dark' },
    { width: 1440, height: 900, colorScheme: 'light' },
  ];
  it.each(VIEWS)(
    'fits $width x $height with everything open, and is accessible',
    async (view) => {
      const { page, context, assertNoErrors } = await openPage(browser, view);
      await openSet(page, baseUrl, DEMO);
      await page.getByRole('button', { name: 'Open swing 3', exact: true }).click();
      await page.locator('.arm-planes svg').first().waitFor(SLOW);
      await page.locator('details').evaluateAll((all) => {
        for (const element of all) (element as HTMLDetailsElement).open = true;
      });
      await page.locator('.picture-table').first().waitFor();
      expect(await overflows(page)).toEqual([]);
      expect(await smallTargets(page)).toEqual([]);
      expect(await axeViolations(page)).toEqual([]);
      const short = await page
        .locator('.picture-box > svg')
        .evaluateAll((all) => all.filter((svg) => svg.clientHeight < 100).length);
      expect(short).toBe(0);
      assertNoErrors();
      await context.close();
    },
    240_000,
  );
});
