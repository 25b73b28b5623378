/** How long the list of 500 sets takes, and a filter by player, in Chromium: `npm run bench:library`. */
import { sampleDescription, setFile } from '../recording/sample-set.ts';
import { findChromium } from './find-chromium.ts';
import { launchChromium, openPage } from './launch.ts';
import { serveApp } from './serve-app.ts';

const SETS = 500;
const PLAYERS = 25;
const ROUNDS = 5;
const chromiumPath = findChromium();
if (chromiumPath === null) throw new Error('No Chromium found: install one or set CHROMIUM_PATH.');

// As text: tsx puts calls of its own into functions.
const LOOK = `async (wanted) => {
  const until = async (isThere) => {
    const began = performance.now();
    while (!isThere()) await new Promise((drawn) => requestAnimationFrame(drawn));
    return performance.now() - began;
  };
  location.hash = '#/';
  const listMs = await until(() => document.querySelectorAll('.set-line').length === 20);
  const field = document.querySelector('input[type=search]');
  field.value = wanted;
  field.dispatchEvent(new Event('input', { bubbles: true }));
  const filterMs = await until(() =>
    [...document.querySelectorAll('.set-line b:first-child')].every((line) =>
      line.textContent.includes(wanted),
    ),
  );
  return { listMs, filterMs };
}`;

const app = await serveApp();
const browser = await launchChromium(chromiumPath);
try {
  const { page } = await openPage(browser);
  page.setDefaultTimeout(300_000);
  await page.goto(`${app.baseUrl}#/storage`);
  await page.locator('input[type=file]').setInputFiles(
    Array.from({ length: SETS }, (_, i) => ({
      name: `set-${i}.mcap`,
      mimeType: 'application/octet-stream',
      buffer: Buffer.from(
        setFile([{ kind: 'event', hostTimeUs: 1e6, event: { type: 'set-ended' } }], {
          ...sampleDescription,
          setId: `set-${i}`,
          startedAtMs: 1e12 + 1e6 * i,
          player: `Player ${i % PLAYERS}`,
        }),
      ),
    })),
  );
  await page.getByText(`${SETS} sets brought in`).waitFor();
  // the first list reads what the catalogue does not know yet
  await page.goto(`${app.baseUrl}#/`);
  await page.locator('.set-line').first().waitFor();
  for (let round = 1; round <= ROUNDS; round++) {
    await page.goto(`${app.baseUrl}#/import`);
    await page.getByRole('heading', { level: 1 }).waitFor();
    const times = await page.evaluate<{ listMs: number; filterMs: number }>(
      `(${LOOK})('Player ${round}')`,
    );
    console.log(
      `${SETS} sets: listed after ${times.listMs.toFixed(0)} ms, filtered after ${times.filterMs.toFixed(0)} ms`,
    );
  }
} finally {
  await browser.close();
  await app.close();
}
