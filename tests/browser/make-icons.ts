/*
 * Draws the icons that an installed app needs from src/screens/icon.svg, with Chromium:
 *   npx tsx tests/browser/make-icons.ts
 * Run it after changing the drawing and commit what it writes.
 */
import { readFile, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import type { Browser } from 'playwright-core';
import { findChromium } from './find-chromium.ts';
import { launchChromium } from './launch.ts';

const screens = new URL('../../src/screens/', import.meta.url);

interface Icon {
  readonly file: string;
  readonly sizePx: number;
  /** Share of the side that the drawing fills. Masks may cut all but a circle of 80 % across (W3C, maskable icons). */
  readonly filled: number;
}

const ICONS: readonly Icon[] = [
  { file: 'icon-192.png', sizePx: 192, filled: 1 },
  { file: 'icon-512.png', sizePx: 512, filled: 1 },
  { file: 'icon-maskable-512.png', sizePx: 512, filled: 0.72 },
];

async function draw(browser: Browser, svg: string, { file, sizePx, filled }: Icon): Promise<void> {
  const page = await browser.newPage({ viewport: { width: sizePx, height: sizePx } });
  // A mask leaves no corner of its own: the background goes on to the edge.
  const background =
    filled < 1 ? (/<rect[^>]* fill="([^"]+)"/.exec(svg)?.[1] ?? '') : 'transparent';
  const side = Math.round(filled * sizePx);
  await page.setContent(
    `<style>body{margin:0;height:100vh;display:grid;place-items:center;background:${background}}
     svg{width:${side}px;height:${side}px}</style>${svg}`,
  );
  const png = await page.screenshot({ omitBackground: true });
  await writeFile(fileURLToPath(new URL(`public/${file}`, screens)), png);
  await page.close();
}

const chromiumPath = findChromium();
if (chromiumPath === null) throw new Error('No Chromium found: install one or set CHROMIUM_PATH.');
const svg = await readFile(new URL('icon.svg', screens), 'utf8');
const browser = await launchChromium(chromiumPath);
try {
  for (const icon of ICONS) await draw(browser, svg, icon);
} finally {
  await browser.close();
}
