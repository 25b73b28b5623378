import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { findChromium } from './find-chromium.ts';
import { launchChromium, openPage, type View } from './launch.ts';
import { serveApp } from './serve-app.ts';
import { endSet, startSimulatedSet, waitForSwing } from './simulated-set.ts';

interface Shot {
  readonly name: string;
  readonly hash: string;
  /** Brings the opened route into the state worth a picture. */
  readonly prepare: (page: Page) => Promise<void>;
}

async function playSomeSwings(page: Page): Promise<void> {
  await startSimulatedSet(page, '4 times');
  for (let swing = 1; swing <= 10; swing++) {
    await waitForSwing(page, swing);
    await page.keyboard.press(String(1 + (swing % 3)));
  }
}

const SHOTS: readonly Shot[] = [
  { name: 'start', hash: '#/', prepare: async () => {} },
  {
    name: 'start-simulated',
    hash: '#/',
    prepare: (page) => page.getByRole('button', { name: /Simulated player/ }).click(),
  },
  {
    name: 'start-sensors',
    hash: '#/',
    prepare: async (page) => {
      // Chromium for Linux hides Bluetooth behind a switch; the form asks only whether it is there.
      await page.addInitScript(() => Object.defineProperty(navigator, 'bluetooth', { value: {} }));
      await page.reload({ waitUntil: 'networkidle' });
      await page.getByRole('button', { name: /New set/ }).click();
      await page.getByText('Stature, an estimate').click();
    },
  },
  {
    name: 'court-hold',
    hash: '#/',
    prepare: async (page) => {
      await startSimulatedSet(page, '4 times');
      await page.getByText('Hold 2 of 2').waitFor();
    },
  },
  { name: 'court', hash: '#/', prepare: playSomeSwings },
  {
    name: 'set',
    hash: '#/',
    prepare: async (page) => {
      await playSomeSwings(page);
      await endSet(page);
      await page.locator('.set-line a').first().click();
      await page.locator('.swing-table').waitFor();
      await page.locator('.chart-canvas canvas').waitFor();
    },
  },
];

const SIZES = [
  { width: 390, height: 844 },
  { width: 820, height: 1180 },
  { width: 1440, height: 900 },
] as const;
const VIEWS: readonly View[] = SIZES.flatMap((size) => [
  { ...size, colorScheme: 'light' },
  { ...size, colorScheme: 'dark' },
]);

async function takeShot(browser: Browser, baseUrl: string, shot: Shot, view: View, folder: string) {
  const { context, page, assertNoErrors } = await openPage(browser, view);
  await page.goto(`${baseUrl}${shot.hash}`, { waitUntil: 'networkidle' });
  await shot.prepare(page);
  const path = join(folder, `${shot.name}-${view.width}x${view.height}-${view.colorScheme}.png`);
  await page.screenshot({ path });
  await context.close();
  assertNoErrors();
  console.log(path);
}

const folder = process.argv[2] ?? '/tmp/shots';
const chromiumPath = findChromium();
if (chromiumPath === null) throw new Error('No Chromium found: install one or set CHROMIUM_PATH.');
await mkdir(folder, { recursive: true });
const app = await serveApp();
const browser = await launchChromium(chromiumPath);
try {
  for (const shot of SHOTS) {
    for (const view of VIEWS) await takeShot(browser, app.baseUrl, shot, view, folder);
  }
} finally {
  await browser.close();
  await app.close();
}
