import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { beginSensorSet, pretendBluetooth } from './begin-sensor-set.ts';
import { launchChromium, openPage } from './launch.ts';
import { endSet, startSimulatedSet, waitForSwing } from './simulated-set.ts';

const underTest = inject('browserUnderTest');
const STEPS = [10, 8, 6, 4, 2, 0];
const SWINGS = 10;

describe.skipIf(underTest === null)('court', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium(chromiumPath);
  });
  afterAll(() => browser.close());

  it('a simulated set is scored by tap and key, drawn, kept over a reload and opened again', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await page.goto(baseUrl);
    await startSimulatedSet(page, '4 times');
    const padBefore = await page.locator('.pad-steps').boundingBox();
    const said: number[] = [];
    for (let swing = 1; swing <= SWINGS; swing++) {
      await waitForSwing(page, swing);
      const step = (swing * 5) % STEPS.length;
      if (swing % 2 === 0) await page.locator('.pad-step').nth(step).click();
      else await page.keyboard.press(String(step + 1));
      said.push(STEPS[step] ?? Number.NaN);
    }
    await expect.poll(() => pointsOf(page), { timeout: 5000 }).toEqual(said.map(String));
    expect(await page.locator('.pad-steps').boundingBox(), 'nothing moved').toEqual(padBefore);
    // A digit is 0.7 em tall in common fonts.
    expect(0.7 * (await fontSizeOf(page, '.digits'))).toBeGreaterThanOrEqual(96);
    expect(await colouredPixels(page)).toBeGreaterThan(200);

    await endSet(page);
    await page.reload();
    const line = page.locator('.set-line a').first();
    await line.waitFor();
    const counted = Number(/(\d+) swings/.exec((await line.textContent()) ?? '')?.[1]);
    expect(counted).toBeGreaterThanOrEqual(SWINGS);
    await line.click();
    await page.locator('.swing-table').waitFor();
    expect(await page.locator('.swing-table tbody tr').count()).toBe(counted);
    const words = page.locator('.set-words[aria-busy="false"]');
    await words.waitFor();
    expect(await words.locator('li').count()).toBeGreaterThanOrEqual(4);
    expect(await page.locator('.picture').count()).toBe(11);
    expect(await words.textContent()).not.toMatch(/NaN|undefined/);
    const kept = await page.locator('.swing-table .swing-points').allInnerTexts();
    expect(kept.slice(0, SWINGS)).toEqual(said.map(String));
    expect(await page.locator('body').textContent()).not.toContain('NaN');
    assertNoErrors();
    await context.close();
  });

  it('undo takes back the last score and discard, in that order', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await page.goto(baseUrl);
    await startSimulatedSet(page, '4 times');
    await waitForSwing(page, 2);
    await page.keyboard.press('1');
    await page.keyboard.press('3');
    await page.keyboard.press('d');
    await expect.poll(async () => (await pointsOf(page))[1]).toBe('out');
    await page.keyboard.press('u');
    await expect.poll(async () => (await pointsOf(page))[1]).toBe('6');
    await page.keyboard.press('u');
    await expect.poll(async () => (await pointsOf(page))[1]).toBe('10');
    await page.keyboard.press('u');
    await expect.poll(async () => (await pointsOf(page))[1]).toBe('?');
    assertNoErrors();
    await context.close();
  });

  it('a browser without Web Bluetooth says which browsers have it and offers the simulated player', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await page.addInitScript(() => Reflect.deleteProperty(Navigator.prototype, 'bluetooth'));
    await page.goto(baseUrl);
    const notice = await page.getByRole('alert').textContent();
    expect(notice).toContain('Chrome or Edge on Android, Windows, macOS or ChromeOS');
    expect(await page.getByRole('button', { name: /New set/ }).isDisabled()).toBe(true);
    expect(await page.getByRole('button', { name: /Simulated player/ }).isEnabled()).toBe(true);
    assertNoErrors();
    await context.close();
  });

  it('a closed sensor chooser is named on the court and can be tried again', async () => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await pretendBluetooth(page);
    await page.goto(baseUrl);
    await beginSensorSet(page);
    await page.getByRole('button', { name: 'Connect forearm', exact: true }).click();
    await page.getByText('No sensor was chosen for the forearm.').waitFor();
    expect(await page.getByRole('button', { name: /Connect\s+forearm\s+failed/ }).isEnabled()).toBe(
      true,
    );
    assertNoErrors();
    await context.close();
  });
});

function pointsOf(page: Page): Promise<string[]> {
  return page.locator('.ten-points').allInnerTexts();
}

function fontSizeOf(page: Page, selector: string): Promise<number> {
  return page
    .locator(selector)
    .evaluate((element) => Number.parseFloat(getComputedStyle(element).fontSize));
}

/** Pixels of the funnel's canvas in the blue of its curve, not in a grey of grid or text. */
function colouredPixels(page: Page): Promise<number> {
  return page.locator('.chart-canvas canvas').evaluate((canvas) => {
    if (!(canvas instanceof HTMLCanvasElement)) return 0;
    const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
    let coloured = 0;
    for (let at = 0; at < data.length; at += 4) {
      if (data[at + 3]! > 128 && data[at + 2]! - data[at]! > 60) coloured++;
    }
    return coloured;
  });
}
