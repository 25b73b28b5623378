import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { readSet } from '../../src/core/recording/set-reader.ts';
import { setFile } from '../recording/sample-set.ts';
import { oddCsv, simulatedTable } from '../recording/simulated-table.ts';
import { beginSensorSet, enterPlan, enterPlayer, pretendBluetooth } from './begin-sensor-set.ts';
import { KIT_SCREENS } from './kit-screens.ts';
import { PROGRESS_SCREENS } from './progress-screens.ts';
import type { Names } from './screen-names.ts';
import { fixSeed } from './sent-records.ts';
import { SIDE_BY_SIDE_SCREENS } from './side-by-side-screens.ts';
import { startSimulatedSet, waitForSwing } from './simulated-set.ts';

/** A screen in a state worth looking at. */
export interface ScreenState {
  readonly name: string;
  /** Brings a fresh page, without any set stored, into that state and waits until it shows. */
  readonly arrive: (page: Page, app: AppUnderTest) => Promise<void>;
}

export interface AppUnderTest {
  readonly baseUrl: string;
  readonly names: Names;
}

const DEMO = 'recorded-streams/player-a-short-racket.mcap';
const SEED = 5;

/** Every screen and state worth looking at: pictures are taken of it, and tests look at all. A new one is a line. */
export const EVERY_SCREEN: readonly ScreenState[] = [
  { name: 'start-without-bluetooth', arrive: (page, app) => open(page, app) },
  { name: 'start-simulated', arrive: startSimulated },
  { name: 'start-with-sets', arrive: startWithSets },
  { name: 'start-invented', arrive: startInvented },
  { name: 'player-form', arrive: playerForm },
  { name: 'player-list', arrive: playerList },
  { name: 'plan', arrive: plan },
  { name: 'court-fit', arrive: courtFit },
  { name: 'court-no-sensor', arrive: courtNoSensor },
  { name: 'court-hold', arrive: courtHold },
  { name: 'court', arrive: court },
  { name: 'court-more', arrive: (page, app) => courtPanel(page, app, 'More') },
  { name: 'court-note', arrive: (page, app) => courtPanel(page, app, 'Note') },
  { name: 'court-end', arrive: (page, app) => courtPanel(page, app, 'End set') },
  { name: 'court-next-block', arrive: courtNextBlock },
  {
    name: 'court-without-set',
    arrive: (page, app) => open(page, app, '#/court', 'No set is running'),
  },
  { name: 'set', arrive: set },
  { name: 'set-swing', arrive: setSwing },
  { name: 'replay', arrive: replay },
  { name: 'storage', arrive: storage },
  {
    name: 'import',
    arrive: (page, app) => open(page, app, '#/import', 'Table from other sensors'),
  },
  { name: 'import-table', arrive: importTable },
  ...KIT_SCREENS,
  ...PROGRESS_SCREENS,
  ...SIDE_BY_SIDE_SCREENS,
];

/** An unknown address shows Start: only the title says that this is the screen. */
async function open(
  page: Page,
  { baseUrl }: AppUnderTest,
  hash = '#/',
  title = 'Reach Funnel',
): Promise<void> {
  await page.goto(`${baseUrl}${hash}`);
  await page.getByRole('heading', { level: 1, name: title, exact: true }).waitFor();
}

async function startSimulated(page: Page, app: AppUnderTest): Promise<void> {
  await pretendBluetooth(page);
  await open(page, app);
  await page.getByRole('button', { name: /Simulated player/ }).click();
}

async function playerForm(page: Page, app: AppUnderTest): Promise<void> {
  await pretendBluetooth(page);
  await open(page, app);
  await enterPlayer(page, app.names);
}

async function plan(page: Page, app: AppUnderTest): Promise<void> {
  await playerForm(page, app);
  await enterPlan(page, app.names);
  for (const title of ['Blocks', 'Task', 'Feedback']) {
    await page.getByRole('heading', { name: title, exact: true }).click();
  }
}

async function playerList(page: Page, app: AppUnderTest): Promise<void> {
  await playerForm(page, app);
  await enterPlan(page, app.names);
  await page.getByRole('link', { name: 'Player' }).click();
  await page.getByRole('button', { name: `Edit ${app.names.player}` }).waitFor();
}

async function courtFit(page: Page, app: AppUnderTest): Promise<void> {
  await pretendBluetooth(page);
  await open(page, app);
  await beginSensorSet(page, app.names);
  await page.getByRole('button', { name: 'Connect forearm', exact: true }).waitFor();
}

async function courtNoSensor(page: Page, app: AppUnderTest): Promise<void> {
  await courtFit(page, app);
  await page.getByRole('button', { name: 'Connect forearm', exact: true }).click();
  await page.getByText('No sensor was chosen for the forearm.').waitFor();
}

async function courtHold(page: Page, app: AppUnderTest): Promise<void> {
  await fixSeed(page, SEED);
  await open(page, app);
  await startSimulatedSet(page, '4 times');
  await page.getByText('Hold 2 of 2').waitFor();
}

async function court(page: Page, app: AppUnderTest): Promise<void> {
  await fixSeed(page, SEED);
  await open(page, app);
  await startSimulatedSet(page, '20 times');
  for (let swing = 1; swing <= 10; swing++) {
    await waitForSwing(page, swing);
    await page.keyboard.press(String(1 + (swing % 3)));
  }
}

async function courtPanel(page: Page, app: AppUnderTest, button: string): Promise<void> {
  await fixSeed(page, SEED);
  await open(page, app);
  await startSimulatedSet(page, '4 times');
  await page.getByRole('button', { name: button, exact: true }).click();
  await page.getByRole('region', { name: button }).waitFor();
}

async function courtNextBlock(page: Page, app: AppUnderTest): Promise<void> {
  await fixSeed(page, SEED);
  await open(page, app);
  await page.getByRole('button', { name: /Simulated player/ }).click();
  await page.getByText('Two rackets, four blocks of ten').click();
  await page.getByText('20 times').click();
  await page.getByRole('button', { name: 'Start simulated set' }).click();
  await page.getByRole('region', { name: 'Next block' }).waitFor();
}

/** Files as a coach would bring them in: the demo set with other names. */
async function bringInSet(page: Page, app: AppUnderTest): Promise<void> {
  await open(page, app, '#/storage', 'Storage');
  await page.locator('input[type=file]').setInputFiles({
    name: 'demo.mcap',
    mimeType: 'application/octet-stream',
    buffer: Buffer.from(demoNamed(app.names)),
  });
  await page.getByText('1 set brought in').waitFor();
}

function demoNamed(names: Names): Uint8Array {
  const result = readSet(readFileSync(DEMO));
  if (!result.ok) throw new Error(result.error.message);
  return setFile(result.set.records, { ...result.set.description, ...names });
}

async function storage(page: Page, app: AppUnderTest): Promise<void> {
  await bringInSet(page, app);
  await page.getByRole('button', { name: /^Delete/ }).waitFor();
}

async function startWithSets(page: Page, app: AppUnderTest): Promise<void> {
  await pretendBluetooth(page);
  await bringInSet(page, app);
  await open(page, app);
  await page.getByRole('link', { name: app.names.player }).waitFor();
}

async function startInvented(page: Page, app: AppUnderTest): Promise<void> {
  await startWithSets(page, app);
  await page.getByRole('button', { name: /three invented players/ }).click();
  await page.getByText('5 sets brought in').waitFor({ timeout: 120_000 });
}

async function set(page: Page, app: AppUnderTest): Promise<void> {
  await startWithSets(page, app);
  await page.getByRole('link', { name: app.names.player }).click();
  await page.locator('.swing-table').waitFor();
  await page.locator('.set-words[aria-busy="false"]').waitFor({ timeout: 60_000 });
}

async function setSwing(page: Page, app: AppUnderTest): Promise<void> {
  await set(page, app);
  await page.getByText('Save as a table').click();
  await page.getByRole('button', { name: 'Open swing 3', exact: true }).click();
}

async function replay(page: Page, app: AppUnderTest): Promise<void> {
  await set(page, app);
  await page.getByRole('link', { name: 'Replay' }).click();
  const place = page.getByRole('slider', { name: 'Place in the set' });
  await place.fill(String(Math.floor(Number(await place.getAttribute('max')) / 1e6) * 1e6));
  await page.getByRole('region', { name: 'Last reach' }).locator('.digits').waitFor();
}

async function importTable(page: Page, app: AppUnderTest): Promise<void> {
  await open(page, app, '#/import', 'Table from other sensors');
  await page.getByLabel('Choose table').setInputFiles({
    name: `${app.names.player}.csv`,
    mimeType: 'text/csv',
    buffer: Buffer.from(oddCsv(simulatedTable(1))),
  });
  await page.locator('.import-rows').waitFor();
  await page.getByLabel('Player, a made-up name').fill(app.names.player);
  await page.getByLabel('Implement', { exact: true }).fill(app.names.implement);
  await page.getByLabel('Ball', { exact: true }).fill(app.names.ball);
}
