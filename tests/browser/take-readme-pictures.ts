import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { pretendBluetooth } from './begin-sensor-set.ts';
import { EVERY_SCREEN } from './every-screen.ts';
import { findChromium } from './find-chromium.ts';
import { launchChromium, openPage, type View } from './launch.ts';
import { USUAL_NAMES } from './screen-names.ts';
import { serveApp } from './serve-app.ts';

// npm run pictures: the pictures of README.md, from the simulated player and the invented players' sets.

const FOLDER = 'recorded-streams/pictures';
const PLAYER = 'Player B (invented)';
const SET = 'player-b-day-2';
const PHONE: View = { width: 390, height: 844, colorScheme: 'light' };
const TABLET: View = { width: 820, height: 1180, colorScheme: 'light' };

/** A screen on which the sets of the invented players are looked at. */
interface Reviewed {
  readonly name: string;
  readonly view: View;
  readonly hash: string;
  /** Comes when all is computed. */
  readonly ready: (page: Page) => Promise<void>;
}

const REVIEWED: readonly Reviewed[] = [
  {
    name: 'reading',
    view: TABLET,
    hash: `#/set/${SET}`,
    ready: (page) =>
      page.locator('.set-words[aria-busy=false]').waitFor({ state: 'attached', timeout: 120_000 }),
  },
  {
    name: 'side-by-side',
    view: PHONE,
    hash: `#/side-by-side/${encodeURIComponent(PLAYER)}`,
    ready: (page) => page.locator('.side-answer').waitFor({ timeout: 120_000 }),
  },
  {
    name: 'progress',
    view: PHONE,
    hash: `#/progress/${encodeURIComponent(PLAYER)}`,
    ready: (page) => page.locator('.progress-grid svg').first().waitFor({ timeout: 120_000 }),
  },
];

const chromiumPath = findChromium();
if (chromiumPath === null) throw new Error('No Chromium found: install one or set CHROMIUM_PATH.');
await mkdir(FOLDER, { recursive: true });
const app = await serveApp();
const browser = await launchChromium(chromiumPath);
try {
  const court = EVERY_SCREEN.find(({ name }) => name === 'court')!;
  const live = await openPage(browser, PHONE);
  await court.arrive(live.page, { baseUrl: app.baseUrl, names: USUAL_NAMES });
  await take(live.page, 'court');
  await live.context.close();

  const review = await openPage(browser, PHONE);
  await pretendBluetooth(review.page);
  await review.page.goto(app.baseUrl);
  await review.page.getByRole('button', { name: /three invented players/ }).click();
  const all = review.page.getByRole('navigation', { name: 'Invented players side by side' });
  await all.getByRole('link', { name: 'Player D' }).waitFor({ timeout: 120_000 });
  await take(review.page, 'start');
  for (const { name, view, hash, ready } of REVIEWED) {
    await review.page.setViewportSize(view);
    await review.page.goto(`${app.baseUrl}${hash}`);
    await ready(review.page);
    await take(review.page, name);
  }
  review.assertNoErrors();
} finally {
  await browser.close();
  await app.close();
}

async function take(page: Page, name: string): Promise<void> {
  const path = join(FOLDER, `${name}.png`);
  await page.screenshot({ path });
  console.log(path);
}
