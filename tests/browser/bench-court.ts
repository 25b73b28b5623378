/**
 * How long it takes from contact to the number on the screen, over the emulated radio in real time, and which tasks of
 * the page's main thread were long: `npm run bench:court -- [swings]`, 100 unless said (about nine minutes).
 */
import { SEGMENTS } from '../../src/core/arm/segments.ts';
import { beginSet, connectSensor, openRadioSet, untilPlayed } from './ble/radio-set.ts';
import { findChromium } from './find-chromium.ts';
import { serveApp } from './serve-app.ts';

const swings = Number(process.argv[2] ?? 100);
if (!(swings >= 1)) throw new Error(`how many swings? Got ${process.argv[2]}`);
const chromiumPath = findChromium();
if (chromiumPath === null) throw new Error('No Chromium found: install one or set CHROMIUM_PATH.');

/** Epoch milliseconds at which each swing number was drawn, and main-thread tasks of 50 ms and more. Runs in the page. */
const WATCH = `(() => {
  const shown = {};
  const long = [];
  const look = () => requestAnimationFrame(() => {
    const number = document.querySelector('.last-head .badge')?.textContent ?? '';
    if (!(number in shown)) shown[number] = performance.timeOrigin + performance.now();
  });
  new MutationObserver(look).observe(document.body, { subtree: true, childList: true, characterData: true });
  new PerformanceObserver((list) => long.push(...list.getEntries().map(({ duration }) => duration)))
    .observe({ type: 'longtask' });
  Object.assign(window, { shown, long });
})()`;

const app = await serveApp();
const set = await openRadioSet(chromiumPath, app.baseUrl, { swings });
try {
  const { page } = set;
  await beginSet(set);
  for (const segment of SEGMENTS) await connectSensor(set, segment);
  await page.evaluate(WATCH);
  await page.getByRole('button', { name: /Zero now/ }).click();
  set.clock.startedMs = performance.now();
  const zeroMs = performance.timeOrigin + performance.now();
  const lastS = set.swings.at(-1)!.contactTimeUs / 1e6;
  await untilPlayed(set, lastS + 2);
  const { shown, long } = await page.evaluate(() => ({
    shown: Reflect.get(window, 'shown') as Record<string, number>,
    long: Reflect.get(window, 'long') as number[],
  }));
  const waitedMs = set.swings.flatMap(({ contactTimeUs }, i) => {
    const atMs = shown[String(i + 1)];
    return atMs === undefined ? [] : [atMs - zeroMs - contactTimeUs / 1000];
  });
  waitedMs.sort((a, b) => a - b);
  const at = (share: number) => waitedMs[Math.round(share * (waitedMs.length - 1))]!.toFixed(0);
  console.log(`${waitedMs.length} of ${swings} swings shown in their turn`);
  console.log(`contact to number: median ${at(0.5)} ms, 95 % ${at(0.95)} ms, worst ${at(1)} ms`);
  const longest = Math.max(0, ...long).toFixed(0);
  console.log(`main-thread tasks above 50 ms: ${long.length}, longest ${longest} ms`);
} finally {
  await set.stop();
  await app.close();
}
