import type { Page } from 'playwright-core';
import { pretendBluetooth } from './begin-sensor-set.ts';
import type { AppUnderTest, ScreenState } from './every-screen.ts';
import type { Names } from './screen-names.ts';
import { fixSeed } from './sent-records.ts';

/** Of a demo sensor: any. */
const SEED = 3;

/** The Kit screens in states worth looking at. */
export const KIT_SCREENS: readonly ScreenState[] = [
  { name: 'kit', arrive: kit },
  { name: 'kit-implement', arrive: implementForm },
  { name: 'kit-pendulum', arrive: pendulum },
  { name: 'kit-ball', arrive: ballForm },
  { name: 'calibrate', arrive: openCalibrate },
  { name: 'calibrate-positions', arrive: positions },
  { name: 'calibrate-result', arrive: calibrated },
];

async function openKit(
  page: Page,
  { baseUrl }: AppUnderTest,
  hash = '#/kit',
  title = 'Kit',
): Promise<void> {
  await pretendBluetooth(page);
  await fixSeed(page, SEED);
  await page.goto(`${baseUrl}${hash}`);
  await page.getByRole('heading', { level: 1, name: title, exact: true }).waitFor();
}

async function openCalibrate(page: Page, app: AppUnderTest): Promise<void> {
  await openKit(page, app, '#/kit/calibrate', 'Calibrate a sensor');
}

/** From the lists: an implement with all its measures but the moment of inertia, not saved yet. */
export async function enterImplement(page: Page, { implement }: Names): Promise<void> {
  await page.getByRole('button', { name: 'Add an implement' }).click();
  await page.getByLabel('Implement', { exact: true }).fill(implement);
  await page.getByLabel('Wrist to sweet spot').fill('45');
  await page.getByLabel('Whole length').fill('68');
  await page.getByLabel('Mass').fill('240');
  await page.getByLabel('Balance point').fill('32');
}

/** The simulated racket hangs 3 cm from its butt end and balances 29 cm below that. */
export async function timeBySensor(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Measure by swinging' }).click();
  await page.getByLabel('Hangs at').fill('3');
  await page.getByText('Its sensor', { exact: true }).click();
  await page.getByRole('button', { name: 'Simulated sensor' }).click();
  await page.getByText(/2\d whole swings felt/).waitFor();
}

async function implementForm(page: Page, app: AppUnderTest): Promise<void> {
  await openKit(page, app);
  await enterImplement(page, app.names);
}

async function pendulum(page: Page, app: AppUnderTest): Promise<void> {
  await implementForm(page, app);
  await timeBySensor(page);
}

async function kit(page: Page, app: AppUnderTest): Promise<void> {
  await pendulum(page, app);
  await page.getByRole('button', { name: 'Take this value' }).click();
  await page.getByRole('button', { name: 'Save' }).click();
  await enterImplement(page, {
    ...app.names,
    implement: `${app.names.implement.slice(0, 34)}, long`,
  });
  await page.getByLabel('Mass').fill('305');
  await page.getByLabel('Whole length').fill('70');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByRole('button', { name: 'Add a ball' }).click();
  await page.getByLabel('Ball', { exact: true }).fill(app.names.ball);
  await page.getByLabel('Diameter').fill('4');
  await page.getByLabel('Compression').fill('slow, two dots');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByText('4 cm across').waitFor();
}

async function ballForm(page: Page, app: AppUnderTest): Promise<void> {
  await openKit(page, app);
  await page.getByRole('button', { name: 'Add a ball' }).click();
}

async function positions(page: Page, app: AppUnderTest): Promise<void> {
  await openCalibrate(page, app);
  await page.getByRole('button', { name: 'Simulated sensor' }).click();
  await page.getByRole('button', { name: 'Calibrate', exact: true, disabled: false }).waitFor();
}

/** The demo plays on after the last position is reached: in silence. */
export async function calibrate(page: Page): Promise<void> {
  await page.getByText(/^2[4-6]positions/).waitFor({ timeout: 60_000 });
  await page.getByRole('button', { name: 'Calibrate', exact: true }).click();
  await page.getByRole('heading', { name: 'Calibrated, for trying out' }).waitFor();
}

async function calibrated(page: Page, app: AppUnderTest): Promise<void> {
  await positions(page, app);
  await calibrate(page);
}
