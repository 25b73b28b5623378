import type { Page } from 'playwright-core';
import { describedSet } from '../recording/described-set.ts';
import type { Names } from './screen-names.ts';

const WEEK_MS = 7 * 24 * 3600 * 1000;
const FIRST_MS = Date.UTC(2026, 7, 4, 15);

/** One set a week of a simulated player with one kit. */
export function weeksOfSets(weeks: number, names: Partial<Names> = {}, swings = 12) {
  return Array.from({ length: weeks }, (_, week) =>
    describedSet(
      { seed: 100 + week, strategy: 'distal', implement: 'short', ball: 'training', swings },
      { setId: `week-${week + 1}`, startedAtMs: FIRST_MS + week * WEEK_MS, ...names },
    ),
  );
}

/** A set of four blocks, two with each of two kits. */
export function setOfTwoKits(names: Partial<Names> = {}) {
  const [short, full] = [
    { implement: 'short', ball: 'training', swings: 10 },
    { implement: 'full', ball: 'standard', swings: 10 },
  ] as const;
  return describedSet(
    { seed: 9, strategy: 'distal', ...short, laterBlocks: [full, full, short] },
    { setId: 'two-kits', startedAtMs: FIRST_MS, ...names },
  );
}

/** Brings sets in through the Storage screen. */
export async function bringIn(page: Page, baseUrl: string, files: readonly Uint8Array[]) {
  await page.goto(`${baseUrl}#/storage`);
  await page.locator('input[type=file]').setInputFiles(
    files.map((bytes, i) => ({
      name: `set-${i}.mcap`,
      mimeType: 'application/octet-stream',
      buffer: Buffer.from(bytes),
    })),
  );
  const words = files.length === 1 ? '1 set brought in' : `${files.length} sets brought in`;
  await page.getByText(words).waitFor({ timeout: 120_000 });
}
