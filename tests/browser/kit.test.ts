import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { calibrateSensor } from '../../src/core/calibration/calibrate-sensor.ts';
import { readDescription } from '../../src/core/recording/description-json.ts';
import { BENCH, simulateBench } from '../../src/core/simulator/simulated-bench.ts';
import type { CalibrationRow } from '../../src/storage/kit-rows.ts';
import type { ImplementRow } from '../../src/storage/library-rows.ts';
import { beginSensorSet, pretendBluetooth } from './begin-sensor-set.ts';
import { calibrate, enterImplement, timeBySensor } from './kit-screens.ts';
import { launchChromium, openPage } from './launch.ts';
import { USUAL_NAMES } from './screen-names.ts';
import { fixSeed } from './sent-records.ts';

/** 16 hex digits, of no part that is known. */
const SERIAL = 'fedcba9876543210';

const underTest = inject('browserUnderTest');

describe.skipIf(underTest === null)('the Kit screens', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium(chromiumPath);
  });
  afterAll(() => browser.close());

  it('keep an implement with its moment of inertia, offer it to the plan and forget it', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await pretendBluetooth(page);
    await fixSeed(page, 3);
    await page.goto(`${baseUrl}#/kit`);
    await enterImplement(page, USUAL_NAMES);
    await timeBySensor(page);
    const answer = await page.locator('.pendulum-answer b').textContent();
    // The simulated racket, by hand: 0.028 about the peg, less 0.24 * 0.29^2, plus 0.24 * 0.22^2 = 0.019432.
    expect(answer).toMatch(/^0\.0194\d ± 0\.000\d\d kg m²$/);
    await page.getByRole('button', { name: 'Take this value' }).click();
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByText('68 cm long, 240 g, balances at 32 cm').waitFor();

    await page.reload();
    await page.getByText(`${answer} about 10 cm`).waitFor();
    await page.goto(`${baseUrl}#/plan`);
    await page.getByLabel('Implement', { exact: true }).fill('short racket');
    expect(await page.getByLabel('Wrist to sweet spot').inputValue()).toBe('45');

    await page.goto(`${baseUrl}#/kit`);
    await page.getByRole('button', { name: 'Edit short racket' }).click();
    await page.getByLabel('Mass').fill('250');
    await page.getByText('Not measured.').waitFor();
    await page.getByRole('button', { name: 'Delete' }).click();
    await page.getByRole('button', { name: 'From the kit?' }).click();
    await page.getByText('come here by themselves').waitFor();
    assertNoErrors();
    await context.close();
  });

  it('set two implements side by side, without a word about the player', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await page.goto(`${baseUrl}#/kit`);
    await page.getByText('come here by themselves').waitFor();
    await page.evaluate(keepRows, ['implements', BATS] as const);
    await page.reload();
    await page.getByText('long bat is 1.5 times as hard to get swinging as short bat').waitFor();
    const cells = page.locator('.kit-compared tbody tr').first().locator('td');
    expect(await cells.allTextContents()).toEqual(['0.03000 ± 0.00039', '300', '30.0']);
    await page.getByText('It says nothing of this player').waitFor();
    assertNoErrors();
    await context.close();
  });

  it('time a swing by two taps', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await page.goto(`${baseUrl}#/kit`);
    await enterImplement(page, USUAL_NAMES);
    await page.getByRole('button', { name: 'Measure by swinging' }).click();
    await page.getByRole('button', { name: 'Tap to start' }).click();
    await page.getByRole('button', { name: 'Tap at swing 20' }).click();
    await page.getByText('swung faster than anything').waitFor();
    assertNoErrors();
    await context.close();
  });

  it('show with a simulated sensor how a calibration goes, and keep nothing of it', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await pretendBluetooth(page);
    await fixSeed(page, 3);
    await page.goto(`${baseUrl}#/kit/calibrate`);
    await page.getByRole('button', { name: 'Simulated sensor' }).click();
    await page.getByText('Leave it alone').waitFor();
    await page.getByText('Turn, hold still, turn again').waitFor();
    await calibrate(page);
    await page.getByText('times as well').waitFor();
    await page.getByText('its calibration is not kept').waitFor();
    expect(await page.getByRole('button', { name: 'Keep it' }).count()).toBe(0);
    await page.getByRole('link', { name: 'Back to the kit' }).click();
    await page.getByRole('link', { name: 'Calibrate a sensor' }).waitFor();
    expect(await page.getByRole('button', { name: /^Forget Sensor/ }).count()).toBe(0);
    assertNoErrors();
    await context.close();
  });

  it('list the calibration of a real sensor, hand it to the next set, and forget it', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await pretendBluetooth(page);
    await keepBeginSet(page);
    await page.goto(`${baseUrl}#/kit`);
    await page.getByText('come here by themselves').waitFor();
    await page.evaluate(keepRows, ['calibrations', [calibrationRow()]] as const);
    await page.reload();
    await page.getByRole('button', { name: 'Forget Sensor …543210' }).waitFor();

    await page.goto(`${baseUrl}#/`);
    await beginSensorSet(page);
    await page.getByRole('button', { name: 'Connect forearm', exact: true }).waitFor();
    const description = readDescription(await page.evaluate(() => Reflect.get(window, 'begun')));
    expect(description.calibrations?.map(({ serial }) => serial)).toEqual([SERIAL]);
    assertNoErrors();
    await context.close();
  });

  it('open the kit of an earlier version of the app', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    // A page of the app's origin without the app, which would open the database itself.
    const body = '<link rel="icon" href="data:,">';
    await page.route(`${baseUrl}blank`, (route) =>
      route.fulfill({ contentType: 'text/html', body }),
    );
    await page.goto(`${baseUrl}blank`);
    await page.evaluate(makeVersion2);
    await page.goto(`${baseUrl}#/kit`);
    await page.getByText('sweet spot 61 cm from the wrist').waitFor();
    await page.getByRole('button', { name: 'Edit old bat' }).click();
    await page.getByLabel('Mass').fill('900');
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByText('900 g').waitFor();
    assertNoErrors();
    await context.close();
  });
});

/** Two bats as the screen keeps them, measured about 10 cm from the butt end. */
const BATS: readonly ImplementRow[] = [
  ['short bat', 0.02],
  ['long bat', 0.03],
].map(([implement, inertiaKgM2], i) => ({
  implement: String(implement),
  lengthM: 0.5,
  sensorM: 0.1,
  massKg: 0.3,
  balancePointM: 0.3,
  inertia: {
    inertiaKgM2: Number(inertiaKgM2),
    standardError: 0.0002,
    axisM: 0.1,
    measuredMs: 1,
  },
  seenMs: i,
}));

/** As the screen keeps it of a sensor that a coach turned. */
function calibrationRow(): CalibrationRow {
  const result = calibrateSensor(simulateBench(BENCH).recording);
  if (!result.ok) throw new Error(result.fault.message);
  return { serial: SERIAL, calibration: result.calibration, calibratedMs: 1.7e12 };
}

/** Puts rows where the app's worker, which must have made the database, keeps them. Runs in the page. */
function keepRows([store, rows]: readonly [string, readonly object[]]): Promise<void> {
  return new Promise((resolve, reject) => {
    const opening = indexedDB.open('reach-funnel');
    opening.onerror = () => reject(opening.error ?? new Error('no database'));
    opening.onsuccess = () => {
      const change = opening.result.transaction(store, 'readwrite');
      for (const row of rows) change.objectStore(store).put(row);
      change.oncomplete = () => {
        opening.result.close();
        resolve();
      };
    };
  });
}

/** Keeps the description that the page hands to its worker. */
async function keepBeginSet(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const post = Worker.prototype.postMessage;
    Worker.prototype.postMessage = function (message: unknown, ...rest: unknown[]) {
      const { type, description } = message as { type: string; description?: unknown };
      if (type === 'begin-set') Reflect.set(window, 'begun', description);
      return Reflect.apply(post, this, [message, ...rest]);
    };
  });
}

/** The database as version 2 made it. Runs in the page. */
function makeVersion2(): Promise<void> {
  return new Promise((resolve, reject) => {
    const opening = indexedDB.open('reach-funnel', 2);
    opening.onupgradeneeded = () => {
      const { result } = opening;
      result.createObjectStore('sets', { keyPath: 'setId' });
      result.createObjectStore('players', { keyPath: 'player' });
      result.createObjectStore('implements', { keyPath: 'implement' });
      result.createObjectStore('balls', { keyPath: 'ball' });
      result.createObjectStore('states', { keyPath: 'setId' });
      const row = { implement: 'old bat', lengthM: 0.61, sensorM: 0.13, seenMs: 1 };
      opening.transaction?.objectStore('implements').put(row);
    };
    opening.onsuccess = () => {
      opening.result.close();
      resolve();
    };
    opening.onerror = () => reject(opening.error ?? new Error('no database'));
  });
}
