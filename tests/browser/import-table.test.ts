import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { createPipeline, stepPipeline } from '../../src/core/pipeline/pipeline.ts';
import { reviewPipeline } from '../../src/core/pipeline/review.ts';
import { readCsvMapping } from '../../src/core/recording/csv-mapping.ts';
import { recordingFromCsv } from '../../src/core/recording/csv-recording.ts';
import { readSet } from '../../src/core/recording/set-reader.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { ODD_HEADER, oddCsv, simulatedTable } from '../recording/simulated-table.ts';
import { launchChromium, openPage } from './launch.ts';
import { storedFiles } from './stored-files.ts';

const underTest = inject('browserUnderTest');
const SWINGS = 8;

describe.skipIf(underTest === null)('a table of other sensors', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };
  const table = simulatedTable(SWINGS);
  const csv = oddCsv(table);
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium(chromiumPath);
  });
  afterAll(() => browser.close());

  async function choose(page: Page, text: string, name: string) {
    await page.goto(`${baseUrl}#/storage`);
    await page.getByRole('link', { name: 'Table from other sensors' }).click();
    await page
      .getByLabel('Choose table')
      .setInputFiles({ name, mimeType: 'text/csv', buffer: Buffer.from(text) });
    await page.locator('.import-rows').waitFor();
  }

  async function tellPlayer(page: Page) {
    const { lengthsM, sensorFromJointM } = table.description;
    const cm = (metres: number) => String(Math.round(1000 * metres) / 10);
    await page.getByLabel('Player, a made-up name').fill('Player 7');
    await page.getByLabel('Implement', { exact: true }).fill('racket');
    await page.getByLabel('Ball', { exact: true }).fill('standard');
    await page.getByLabel('Shoulder to elbow').fill(cm(lengthsM.upperArm));
    await page.getByLabel('Elbow to wrist').fill(cm(lengthsM.forearm));
    await page.getByLabel('Wrist to sweet spot').fill(cm(lengthsM.implement));
    await page.getByLabel('Below the shoulder').fill(cm(sensorFromJointM.upperArm));
    await page.getByLabel('Below the elbow').fill(cm(sensorFromJointM.forearm));
    await page.getByLabel('Beyond the wrist').fill(cm(sensorFromJointM.implement));
    await page
      .getByLabel('Two poses begin at, as in the time column')
      .fill(String(1000 * table.zeroAtS));
  }

  const check = (page: Page) => page.getByRole('button', { name: 'Check', exact: true }).click();
  const outcome = (page: Page) => page.locator('.import-check').textContent();
  const trouble = (page: Page) => page.locator('.import-trouble').textContent();

  async function bringIn(page: Page) {
    await page.getByRole('button', { name: 'Bring in' }).click();
    await page.locator('.swing-table').waitFor();
    const [bytes] = [...(await storedFiles(page)).values()];
    const result = readSet(bytes!);
    if (!result.ok) throw new Error(result.error.message);
    return result.set;
  }

  const swingsOf = (set: Pick<typeof table, 'records' | 'description'>) => {
    const state = createPipeline(set.description);
    for (const record of set.records as readonly SetRecord[]) stepPipeline(state, record);
    return reviewPipeline(state).swings.map(({ swing }) => swing);
  };

  it('is understood by its names, checked, brought in, and read as the set it came from', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await choose(page, csv, 'lab day.csv');
    expect(await page.getByText('Not sure').count()).toBe(0);
    expect(await page.locator('.import-used').count()).toBe(19);
    await tellPlayer(page);
    await check(page);
    expect(await outcome(page)).toContain(`${SWINGS} swings, ${SWINGS} with a reach`);
    expect(await storedFiles(page)).toEqual(new Map());
    const set = await bringIn(page);
    expect(page.url()).toMatch(/#\/set\/lab-day$/);
    expect(set.complete).toBe(true);
    const [imported, simulated] = [swingsOf(set), swingsOf(table)];
    expect(imported).toHaveLength(simulated.length);
    imported.forEach(({ reachM }, i) => {
      expect(Math.abs(reachM - simulated[i]!.reachM)).toBeLessThan(0.001);
    });
    const shown = await page.locator('.swing-table').textContent();
    for (const { reachM } of imported) expect(shown).toContain((100 * reachM).toFixed(1));
    assertNoErrors();
    await context.close();
  });

  it('a wrong unit and a column that is not there are explained, and corrected by hand', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await choose(page, csv, 'lab.csv');
    await tellPlayer(page);
    await page.getByLabel('Unit of the accelerometers').selectOption('m/s²');
    await check(page);
    expect(await trouble(page)).toMatch(/where gravity is 9.81.*unit seems to be g/);
    expect(await page.getByRole('button', { name: 'Bring in' }).count()).toBe(0);
    await page.getByLabel('Unit of the accelerometers').selectOption('g');
    await page.getByLabel('Unit of the time').selectOption('seconds');
    await check(page);
    await expect.poll(() => trouble(page)).toMatch(/"Unit of the time"/);
    await page.getByLabel('Unit of the time').selectOption('milliseconds');
    await check(page);
    await page.locator('.import-check').waitFor();
    // what was checked is what is brought in: another choice takes the button away
    await page.getByRole('group', { name: 'Forearm' }).getByLabel('Gyroscope').selectOption({
      label: 'Biceps Gyr x/y/z (deg/s)',
    });
    expect(await page.getByRole('button', { name: 'Bring in' }).count()).toBe(0);

    // the mapping of another maker's table names columns that this one has not
    const [saved] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save mapping' }).click(),
    ]);
    const text = readFileSync((await saved.path())!, 'utf8').replaceAll('Wrist', 'Forearm');
    await page.getByLabel('Load mapping').setInputFiles({
      name: 'mapping.json',
      mimeType: 'application/json',
      buffer: Buffer.from(text),
    });
    await page
      .getByRole('option', { name: /^Forearm Acc X/ })
      .first()
      .waitFor({ state: 'attached' });
    await check(page);
    await expect
      .poll(() => trouble(page))
      .toMatch(/no column 'Forearm Acc X \(g\)'. Nearest: .*Wrist Acc X/);
    expect(await storedFiles(page)).toEqual(new Map());
    assertNoErrors();
    await context.close();
  });

  it('a saved mapping serves the batch and the next table', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await choose(page, csv, 'first.csv');
    await tellPlayer(page);
    const [saved] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save mapping' }).click(),
    ]);
    expect(saved.suggestedFilename()).toBe('mapping.json');
    const text = readFileSync((await saved.path())!, 'utf8');
    // as npm run analyse --mapping reads it
    const recording = recordingFromCsv(csv, readCsvMapping(JSON.parse(text), '0.1.0'));
    expect(swingsOf(recording)).toHaveLength(SWINGS);

    await page.reload();
    await page.getByLabel('Load mapping').setInputFiles((await saved.path())!);
    await page
      .getByLabel('Choose table')
      .setInputFiles({ name: 'second.csv', mimeType: 'text/csv', buffer: Buffer.from(csv) });
    await page.locator('.import-rows').waitFor();
    expect(await page.getByLabel('Player, a made-up name').inputValue()).toBe('Player 7');
    await check(page);
    expect(await outcome(page)).toContain(`${SWINGS} swings, ${SWINGS} with a reach`);
    assertNoErrors();
    await context.close();
  });

  it('on a phone only the first rows scroll sideways, by keyboard too, and names are only text', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    const hostile = '<img src=x onerror=document.title=1>';
    const names = [...ODD_HEADER, hostile];
    const text = oddCsv(
      { ...table, rows: table.rows.slice(0, 50).map((row) => [...row, 1]) },
      names,
    );
    await choose(page, text, `${'long-'.repeat(30)}${hostile}.csv`);
    await tellPlayer(page);
    const widths = () =>
      page.evaluate(() => [document.documentElement.scrollWidth, window.innerWidth] as const);
    expect(await widths()).toEqual([390, 390]);
    const rows = page.getByLabel('First rows of the table, scrolls');
    await rows.focus();
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => rows.evaluate((box) => box.scrollLeft)).toBeGreaterThan(0);
    expect(await page.locator('.import-rows img, .import-name img').count()).toBe(0);
    expect(await page.title()).not.toBe('1');
    const tooSmall = await page.evaluate(() =>
      [...document.querySelectorAll('select, button, a.button, label.button, .field input')]
        .filter((element) => element.getBoundingClientRect().height < 48)
        .map((element) => element.outerHTML.slice(0, 80)),
    );
    expect(tooSmall).toEqual([]);
    const unnamed = await page.evaluate(() =>
      [...document.querySelectorAll<HTMLInputElement | HTMLSelectElement>('select, input')]
        .filter((control) => (control.labels?.length ?? 0) === 0)
        .map((control) => control.outerHTML.slice(0, 80)),
    );
    expect(unnamed).toEqual([]);
    assertNoErrors();
    await context.close();
  });

  it.each([
    ['without line ends', 'x'.repeat(1_000_000), /first line is longer/],
    ['with a million columns', `${'c,'.repeat(1_000_000)}c\n1`, /first line is longer/],
    ['that is binary', '\0\u0001\u0002\0', /binary/],
    ['without a line of names', '0,1,2\n1,2,3\n', /first line holds numbers/],
  ])('a file %s is refused with a reason', async (_, text, message) => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await page.goto(`${baseUrl}#/import`);
    await page
      .getByLabel('Choose table')
      .setInputFiles({ name: 'hostile.csv', mimeType: 'text/csv', buffer: Buffer.from(text) });
    expect(await trouble(page)).toMatch(message);
    expect(await page.locator('.import-rows').count()).toBe(0);
    assertNoErrors();
    await context.close();
  });
});
