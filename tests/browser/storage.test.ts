import { readFileSync } from 'node:fs';
import { unzipSync } from 'fflate';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { readSet } from '../../src/core/recording/set-reader.ts';
import { setFile } from '../recording/sample-set.ts';
import { pretendBluetooth } from './begin-sensor-set.ts';
import { launchChromium, openPage } from './launch.ts';

const underTest = inject('browserUnderTest');
/** A file is read and computed anew. */
const SLOW = { timeout: 30_000 };
const DEMO = 'recorded-streams/player-a-short-racket.mcap';
const OTHER = 'recorded-streams/player-a-full-racket.mcap';

describe.skipIf(underTest === null)('stored sets', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium(chromiumPath);
  });
  afterAll(() => browser.close());

  async function bringIn(page: Page, ...files: { name: string; bytes: Uint8Array }[]) {
    await page.goto(`${baseUrl}#/storage`);
    await page.locator('input[type=file]').setInputFiles(
      files.map(({ name, bytes }) => ({
        name,
        mimeType: 'application/octet-stream',
        buffer: Buffer.from(bytes),
      })),
    );
    await page.locator('.storage-outcome').waitFor();
    return page.locator('.storage-outcome').textContent();
  }

  async function openFirstSet(page: Page) {
    await page.goto(`${baseUrl}#/`);
    await page.locator('.set-line a').first().click();
    await page.locator('.swing-table').waitFor();
  }

  const demo = { name: 'demo.mcap', bytes: readFileSync(DEMO) };

  it('an edit is in the file, changes the numbers, and undo restores them', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    expect(await bringIn(page, demo)).toMatch(/1 set brought in/);
    await openFirstSet(page);
    const caption = () => page.locator('.swing-table caption').textContent();
    const before = await caption();
    await page.getByRole('button', { name: 'Open swing 3', exact: true }).click();
    await page.getByRole('button', { name: 'poor feed' }).click();
    const undo = page.getByRole('button', { name: 'Undo' });
    await undo.waitFor();
    await expect.poll(caption, SLOW).not.toBe(before);
    expect(await page.locator('.swing-points').nth(2).textContent()).toBe('left out poor feed');
    // kept over a reload
    await page.reload();
    await page.locator('.swing-table').waitFor();
    expect(await page.locator('.swing-points').nth(2).textContent()).toBe('left out poor feed');
    await page.getByRole('button', { name: 'Open swing 3', exact: true }).click();
    await page.getByRole('button', { name: 'Count it again' }).click();
    await expect.poll(caption, SLOW).toBe(before);
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(caption, SLOW).not.toBe(before);
    const saved = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save file' }).click();
    const result = readSet(readFileSync((await (await saved).path())!));
    const original = readSet(demo.bytes);
    if (!result.ok || !original.ok) throw new Error('not a set');
    expect(result.set.complete).toBe(true);
    const added = result.set.records.slice(original.set.records.length);
    expect(added.map((r) => (r.kind === 'event' ? r.event.type : r.kind))).toEqual([
      'discarded',
      'discard-withdrawn',
      'discarded',
    ]);
    assertNoErrors();
    await context.close();
  });

  it('leaves as tables that other programs read', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await bringIn(page, demo);
    await openFirstSet(page);
    const swings = await page.locator('.swing-table .swing-points').count();
    await page.getByText('Save as a table').click();
    const saveAs = async (label: string) => {
      const download = page.waitForEvent('download');
      await page.getByRole('button', { name: label }).click();
      const file = await download;
      return { name: file.suggestedFilename(), bytes: readFileSync((await file.path())!) };
    };
    const csv = await saveAs('Swings, a row each (CSV)');
    expect(csv.name).toBe('player-a-short-racket-swings.csv');
    expect(csv.bytes.toString().trimEnd().split('\r\n')).toHaveLength(1 + swings);
    const parquet = await saveAs('Time series (Parquet)');
    expect(parquet.bytes.subarray(-4).toString()).toBe('PAR1');
    const bids = unzipSync((await saveAs('Motion-BIDS data set (ZIP)')).bytes);
    expect(Object.keys(bids)).toContain('dataset_description.json');
    assertNoErrors();
    await context.close();
  });

  it('is played again on the live screen, faster than life, and from any place', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await bringIn(page, demo);
    await openFirstSet(page);
    const swings = await page.locator('.swing-table .swing-points').count();
    await page.getByRole('link', { name: 'Replay' }).click();
    const place = page.getByRole('slider', { name: 'Place in the set' });
    await place.waitFor();
    await page.getByText('8×').click();
    const placeUs = async () => Number(await place.inputValue());
    const fromUs = await placeUs();
    await expect.poll(placeUs, SLOW).toBeGreaterThan(fromUs + 30e6);
    await page.getByRole('button', { name: 'Pause' }).click();
    await place.fill(String(Math.floor(Number(await place.getAttribute('max')) / 1e6) * 1e6));
    await expect
      .poll(() => page.locator('.last-head .badge').textContent(), SLOW)
      .toBe(String(swings));
    await place.fill('0');
    await page.getByText(/getting ready|Hold 1 of 2/).waitFor();
    assertNoErrors();
    await context.close();
  });

  it('tells players and kit for the next set, also when only the files are left', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await pretendBluetooth(page);
    const result = readSet(demo.bytes);
    if (!result.ok) throw new Error(result.error.message);
    const { description } = result.set;
    const other = setFile(result.set.records.slice(0, 50), {
      ...description,
      setId: 'left-hander',
      // The simulated player is nobody to be chosen again.
      source: 'sensors',
      player: 'Player Z',
      handedness: 'left',
      lengthsM: { upperArm: 0.313, forearm: 0.257, implement: 0.61 },
      implement: 'odd bat',
    });
    await bringIn(page, { name: 'other.mcap', bytes: other });
    await page.evaluate(() => indexedDB.deleteDatabase('reach-funnel'));
    await page.goto(`${baseUrl}#/`);
    await page.reload();
    await page.locator('.set-line a').first().waitFor();
    await page.getByRole('button', { name: /New set/ }).click();
    await page.getByRole('button', { name: 'Edit Player Z' }).click();
    expect(await page.getByLabel('Shoulder to elbow').inputValue()).toBe('31.3');
    expect(await page.getByLabel('Elbow to wrist').inputValue()).toBe('25.7');
    expect(await page.getByLabel('Left').isChecked()).toBe(true);
    await page.getByLabel('Player and parent agree').check();
    await page.getByRole('button', { name: 'Save, then plan' }).click();
    await page.getByLabel('Implement', { exact: true }).fill('odd bat');
    expect(await page.getByLabel('Wrist to sweet spot').inputValue()).toBe('61');
    assertNoErrors();
    await context.close();
  });

  it('everything saved, deleted and brought into a fresh browser gives identical files and numbers', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    const words = await bringIn(
      page,
      demo,
      { name: 'other.mcap', bytes: readFileSync(OTHER) },
      {
        name: '<img src=x onerror=alert(1)>.mcap',
        bytes: Uint8Array.of(1, 2, 3),
      },
    );
    expect(words).toMatch(/2 sets brought in, 1 refused/);
    expect(words).toContain('<img src=x onerror=alert(1)>.mcap: This is not a set file');
    const saved = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save everything' }).click();
    const archive = readFileSync((await (await saved).path())!);
    const entries = unzipSync(archive);
    expect(
      Object.values(entries)
        .map((bytes) => bytes.length)
        .sort(),
    ).toEqual([demo.bytes.length, readFileSync(OTHER).length].sort());
    await openFirstSet(page);
    const table = await page.locator('.swing-table').textContent();

    await page.goto(`${baseUrl}#/storage`);
    await page.getByRole('button', { name: /^Delete/ }).click();
    await page.getByRole('button', { name: /^Delete 2 sets\?/ }).click();
    await page.getByText('2 sets deleted for good').waitFor();
    await page.goto(`${baseUrl}#/`);
    await page.getByText('None yet').waitFor();
    const left = await page.evaluate(async () => {
      const root = await navigator.storage.getDirectory();
      const names: string[] = [];
      const sets = await root.getDirectoryHandle('sets');
      for await (const name of sets.keys()) names.push(name);
      return names;
    });
    expect(left).toEqual([]);
    await context.close();

    const fresh = await openPage(browser);
    expect(await bringIn(fresh.page, { name: 'sets.zip', bytes: archive })).toMatch(
      /2 sets brought in/,
    );
    expect(await bringIn(fresh.page, demo)).toMatch(/0 sets brought in, 1 known already/);
    await openFirstSet(fresh.page);
    expect(await fresh.page.locator('.swing-table').textContent()).toBe(table);
    fresh.assertNoErrors();
    assertNoErrors();
    await fresh.context.close();
  });
});
