import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { EVERY_SCREEN, type ScreenState } from './every-screen.ts';
import { findChromium } from './find-chromium.ts';
import { launchChromium, openPage, type View } from './launch.ts';
import { USUAL_NAMES } from './screen-names.ts';
import { serveApp } from './serve-app.ts';

const SIZES = [
  { width: 390, height: 844 },
  { width: 820, height: 1180 },
  { width: 1440, height: 900 },
] as const;
const VIEWS: readonly View[] = SIZES.flatMap((size) => [
  { ...size, colorScheme: 'light' },
  { ...size, colorScheme: 'dark' },
]);

/** One state in every size and scheme: the page is brought there once. */
async function takeShots(browser: Browser, baseUrl: string, state: ScreenState, folder: string) {
  const { context, page, assertNoErrors } = await openPage(browser);
  await state.arrive(page, { baseUrl, names: USUAL_NAMES });
  for (const { width, height, colorScheme } of VIEWS) {
    await page.setViewportSize({ width, height });
    await page.emulateMedia({ colorScheme });
    const path = join(folder, `${state.name}-${width}x${height}-${colorScheme}.png`);
    await page.screenshot({ path });
    console.log(path);
  }
  await context.close();
  assertNoErrors();
}

const [folder = '/tmp/shots', ...names] = process.argv.slice(2);
const wanted = EVERY_SCREEN.filter(({ name }) => names.length === 0 || names.includes(name));
const chromiumPath = findChromium();
if (chromiumPath === null) throw new Error('No Chromium found: install one or set CHROMIUM_PATH.');
await mkdir(folder, { recursive: true });
const app = await serveApp();
const browser = await launchChromium(chromiumPath);
try {
  for (const state of wanted) await takeShots(browser, app.baseUrl, state, folder);
} finally {
  await browser.close();
  await app.close();
}
