import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { readSet, type StoredSet } from '../../src/core/recording/set-reader.ts';
import { startKillable } from './killable-chromium.ts';
import { launchChromium, openPage } from './launch.ts';
import { sentUs, watchSending } from './sent-records.ts';
import { endSet, startSimulatedSet, waitForSwing } from './simulated-set.ts';

const underTest = inject('browserUnderTest');
/** Chromium gives a growing file its space a megabyte at first and then as much again: the second step fails. */
const SOME_STORAGE = 1_500_000;
const IN_MEMORY = /goes on in memory only: keep this page open and export the set/;

describe.skipIf(underTest === null)('storage in trouble never stops a set', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium(chromiumPath);
  });
  afterAll(() => browser.close());

  it('full in the middle of a set: told at once, and every record can be saved', async () => {
    // Not in an incognito window: its files in memory take more than the quota.
    await inProfile({}, async (page) => {
      await watchSending(page);
      await page.goto(baseUrl);
      await limitStorage(page, SOME_STORAGE);
      await startSimulatedSet(page, '20 times');
      await page.getByText(/The storage of this device is full/).waitFor({ timeout: 60_000 });
      await page.getByText(IN_MEMORY).waitFor();
      const fullAtUs = await sentUs(page);
      await expect.poll(() => sentUs(page)).toBeGreaterThan(fullAtUs + 5e6);
      const sent = await sentUs(page);
      await endSet(page);
      await page.getByText('In memory only').waitFor();
      expectWhole(await savedSet(page), sent);
    });
  });

  it('full before the set begins: the same', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await watchSending(page);
    await page.goto(baseUrl);
    await limitStorage(page, 1);
    await startSimulatedSet(page, '20 times');
    await page.getByText(IN_MEMORY).waitFor({ timeout: 30_000 });
    await waitForSwing(page, 2);
    const sent = await sentUs(page);
    await endSet(page);
    expectWhole(await savedSet(page), sent);
    assertNoErrors();
    await context.close();
  });

  it('a private window keeps a set until it is closed, and the set can be saved', async () => {
    // A new context of Chromium is an incognito window.
    const { page, context, assertNoErrors } = await openPage(browser);
    await page.goto(baseUrl);
    await startSimulatedSet(page, '20 times');
    await waitForSwing(page, 2);
    await endSet(page);
    await page.reload();
    expectWhole(await savedSet(page), 0);
    assertNoErrors();
    await context.close();
  });

  it('site data blocked by a setting: told at once, and every record can be saved', async () => {
    // "Don't allow sites to save data on your device": 2 is CONTENT_SETTING_BLOCK.
    const blocked = { profile: { default_content_setting_values: { cookies: 2 } } };
    await inProfile(blocked, async (page) => {
      await watchSending(page);
      await page.goto(baseUrl);
      await expect(hasStorage(page), 'the setting works').resolves.toBe(false);
      await startSimulatedSet(page, '20 times');
      await page.getByText(IN_MEMORY).waitFor({ timeout: 30_000 });
      await waitForSwing(page, 2);
      const sent = await sentUs(page);
      await endSet(page);
      expectWhole(await savedSet(page), sent);
    });
  });

  it('two tabs record a set each, see neither as interrupted, and find what a closed tab left', async () => {
    const { page: left, context, assertNoErrors } = await openPage(browser);
    const right = await context.newPage();
    for (const page of [left, right]) {
      await page.goto(baseUrl);
      await startSimulatedSet(page, '4 times');
    }
    for (const page of [left, right]) await waitForSwing(page, 1);
    await endSet(right);
    await right.locator('.set-line').first().waitFor();
    expect(await right.locator('.set-line').count(), 'the other set still runs').toBe(1);
    expect(await right.getByText(/interrupted/).count()).toBe(0);
    expectWhole(await savedSet(right), 0);

    await left.close();
    await right.reload();
    await right
      .getByText(/^1 set was interrupted; \d+ swings? up to \d+:\d\d recovered\.$/)
      .waitFor();
    await expect.poll(() => right.locator('.set-line').count()).toBe(2);
    assertNoErrors();
    await context.close();
  });

  /** A window that is not private, with these preferences. */
  async function inProfile(preferences: object, use: (page: Page) => Promise<void>): Promise<void> {
    const profileDir = await mkdtemp(join(tmpdir(), 'reach-funnel-storage-'));
    await mkdir(join(profileDir, 'Default'));
    await writeFile(join(profileDir, 'Default/Preferences'), JSON.stringify(preferences));
    const { page, kill } = await startKillable(chromiumPath, profileDir);
    try {
      await use(page);
    } finally {
      await kill();
      await rm(profileDir, { recursive: true, force: true });
    }
  }
});

/** Lets the page's origin store this many bytes and no more. */
async function limitStorage(page: Page, bytes: number): Promise<void> {
  const devtools = await page.context().newCDPSession(page);
  const { origin } = new URL(page.url());
  await devtools.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: bytes });
}

function hasStorage(page: Page): Promise<boolean> {
  return page.evaluate(() =>
    navigator.storage.getDirectory().then(
      () => true,
      () => false,
    ),
  );
}

/** The newest set of the list through the app's own way of saving it. */
async function savedSet(page: Page): Promise<StoredSet> {
  const download = page.waitForEvent('download');
  await page
    .getByRole('button', { name: /Save file of the set/ })
    .first()
    .click();
  const result = readSet(new Uint8Array(await readFile(await (await download).path())));
  if (!result.ok) throw new Error(result.error.message);
  return result.set;
}

/** Nothing is missing: the reader finds no gap in the numbering, the end is there, and so is what came late. */
function expectWhole(set: StoredSet, sentUs: number): void {
  expect(set).toMatchObject({ complete: true, fault: null, lostBytes: 0, skippedRecords: 0 });
  expect(set.records.at(-1)).toMatchObject({ kind: 'event', event: { type: 'set-ended' } });
  expect(set.records[0]).toMatchObject({ kind: 'sensor-info', hostTimeUs: 0 });
  expect(set.records.at(-1)!.hostTimeUs).toBeGreaterThanOrEqual(sentUs);
}
