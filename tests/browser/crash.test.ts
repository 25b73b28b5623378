import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import { atFileTime } from '../../src/core/recording/set-file-format.ts';
import { readSet, type StoredSet } from '../../src/core/recording/set-reader.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { isSameRecord } from '../recording/same-record.ts';
import { startKillable } from './killable-chromium.ts';
import { contactsOfSeed, fixSeed, recordsOfSeed, sentUs, watchSending } from './sent-records.ts';
import { startSimulatedSet } from './simulated-set.ts';
import { storedFiles } from './stored-files.ts';

const underTest = inject('browserUnderTest');
const KILLS = 10;
const SEED = 911;
/** Seconds of the set, at the speed of life: faster, a busy machine's moment would cost the set several of its own. */
const EARLIEST_S = 2;
const LATEST_S = 30;
/** What a crash may cost. */
const MOST_LOST_US = 1e6;

describe.skipIf(underTest === null)('Chromium killed in the middle of a set', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };
  let profileDir: string;
  beforeAll(async () => {
    profileDir = await mkdtemp(join(tmpdir(), 'reach-funnel-crash-'));
  });
  afterAll(() => rm(profileDir, { recursive: true, force: true }));

  it(`${KILLS} times: every set opens, lacks a second at most and is counted truly`, async () => {
    const random = seededRandom(SEED);
    const known = new Set<string>();
    for (let kill = 0; kill < KILLS; kill++) {
      const killAtUs = random.uniform(EARLIEST_S, LATEST_S) * 1e6;
      const sentAtKillUs = await playUntilKilled(SEED + kill, killAtUs);
      await inNewBrowser(async (page) => {
        const told = await page.getByText(/interrupted/).textContent();
        const files = await storedFiles(page);
        const fresh = [...files].filter(([name]) => !known.has(name));
        expect(fresh.length, 'one new file').toBe(1);
        const [name, bytes] = fresh[0]!;
        known.add(name);
        const set = opened(bytes);
        const untilUs = await expectPrefix(set, SEED + kill, sentAtKillUs);
        const swings = swingsOf(set);
        // A contact is decided within the second that follows it.
        expect(swings).toBeGreaterThanOrEqual(contactsOfSeed(SEED + kill, untilUs - 1e6));
        expect(swings).toBeLessThanOrEqual(contactsOfSeed(SEED + kill, untilUs));
        expect(told).toBe(toldFor(swings, untilUs));
        await expectShown(page, name, swings);
      });
    }
    await inNewBrowser(async (page) => {
      await page
        .locator('.set-line')
        .nth(KILLS - 1)
        .waitFor();
      expect(await page.getByText(/interrupted/).count(), 'told once only').toBe(0);
      expect(await page.locator('.set-line').count()).toBe(KILLS);
    });
  }, 600_000);

  /** @returns host time of the newest record that had been handed over a moment before the kill */
  async function playUntilKilled(seed: number, killAtUs: number): Promise<number> {
    const { page, kill } = await startKillable(chromiumPath, profileDir);
    try {
      await fixSeed(page, seed);
      await watchSending(page);
      await page.goto(baseUrl);
      await startSimulatedSet(page, 'As in life');
      for (;;) {
        const sent = await sentUs(page);
        if (sent >= killAtUs) return sent;
      }
    } finally {
      await kill();
    }
  }

  async function inNewBrowser(use: (page: Page) => Promise<void>): Promise<void> {
    const { page, kill } = await startKillable(chromiumPath, profileDir);
    try {
      await page.goto(baseUrl);
      await use(page);
    } finally {
      await kill();
    }
  }
});

function opened(bytes: Uint8Array): StoredSet {
  const result = readSet(bytes);
  if (!result.ok) throw new Error(result.error.message);
  return result.set;
}

/** Every record that was saved is one that was sent, in order, and none but the last second's are missing. */
async function expectPrefix(set: StoredSet, seed: number, sentAtKillUs: number): Promise<number> {
  const untilUs = set.records.at(-1)?.hostTimeUs ?? 0;
  const sent = await recordsOfSeed(seed, untilUs + MOST_LOST_US);
  expect(set.records.length).toBeGreaterThan(0);
  expect(set.records.length).toBeLessThanOrEqual(sent.length);
  const strange = set.records.findIndex(
    (record, i) => !isWhatWasSent(record, atFileTime(sent[i]!)),
  );
  expect(strange, 'first record that was never sent').toBe(-1);
  expect(untilUs).toBeGreaterThanOrEqual(sentAtKillUs - MOST_LOST_US);
  expect(set.skippedRecords).toBe(0);
  return untilUs;
}

/**
 * The same record, with times to a nanosecond: Chromium's and Node's logarithms differ in the last digit, and radio
 * delays are logarithms.
 */
function isWhatWasSent(record: SetRecord, sent: SetRecord): boolean {
  const isSoon = (aUs: number, bUs: number) => Math.abs(aUs - bUs) < 0.0015;
  if (!isSoon(record.hostTimeUs, sent.hostTimeUs)) return false;
  if (record.kind !== 'event' || sent.kind !== 'event') {
    return isSameRecord({ ...record, hostTimeUs: sent.hostTimeUs }, sent);
  }
  const { event } = record;
  if (event.type !== 'clock-ping' || sent.event.type !== 'clock-ping') {
    return JSON.stringify(event) === JSON.stringify(sent.event);
  }
  const { sentTimeUs } = sent.event;
  return (
    isSoon(event.sentTimeUs, sentTimeUs) &&
    JSON.stringify({ ...event, sentTimeUs }) === JSON.stringify(sent.event)
  );
}

function swingsOf(set: StoredSet): number {
  const state = createPipeline(set.description);
  for (const record of set.records) stepPipeline(state, record);
  return viewPipeline(state).swings.length;
}

function toldFor(swings: number, untilUs: number): string {
  const s = Math.floor(untilUs / 1e6);
  const upTo = `${Math.floor(s / 60)}:${String(s % 60).padStart(2, '0')}`;
  return `1 set was interrupted; ${swings} ${swings === 1 ? 'swing' : 'swings'} up to ${upTo} recovered.`;
}

/** The list and the opened set show as many swings as the file has. */
async function expectShown(page: Page, fileName: string, swings: number): Promise<void> {
  const link = page.locator(`.set-line a[href*="${fileName.replace('.mcap', '')}"]`);
  expect(await link.textContent()).toContain(swings === 1 ? ' 1 swing' : ` ${swings} swings`);
  await link.click();
  await page.getByText('cut off before its end').waitFor();
  await expect.poll(() => page.locator('.swing-table tbody tr').count()).toBe(swings);
}
