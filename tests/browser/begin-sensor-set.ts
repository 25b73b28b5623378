import type { Page } from 'playwright-core';
import { type Names, USUAL_NAMES } from './screen-names.ts';

/** A browser whose sensor chooser is always closed without a choice: Chromium for Linux hides Bluetooth. */
export async function pretendBluetooth(page: Page): Promise<void> {
  // As text: tsx, which takes the screenshots, puts calls of its own into functions.
  await page.addInitScript(`Object.defineProperty(navigator, 'bluetooth', {
    value: { requestDevice: () => Promise.reject(new DOMException('closed', 'NotFoundError')) },
  })`);
}

/** From the Start screen to the form of a new player, where nobody is known yet, filled in with consent. */
export async function enterPlayer(page: Page, { player }: Names = USUAL_NAMES): Promise<void> {
  await page.getByRole('button', { name: /New set/ }).click();
  await page.getByLabel('Player, a made-up name').fill(player);
  await page.getByLabel('Shoulder to elbow').fill('24.7');
  await page.getByLabel('Elbow to wrist').fill('19.4');
  await page.getByLabel('Player and parent agree').check();
}

/** From there to the Plan screen of a first set, its kit filled in. */
export async function enterPlan(page: Page, { implement, ball }: Names = USUAL_NAMES) {
  await page.getByRole('button', { name: 'Save, then plan' }).click();
  await page.getByLabel('Implement', { exact: true }).fill(implement);
  await page.getByLabel('Wrist to sweet spot').fill('45');
  await page.getByLabel('Ball', { exact: true }).fill(ball);
}

/** From a Plan screen that is filled in to the court. */
export async function confirmAndBegin(page: Page): Promise<void> {
  await page.getByLabel('Seen to, all of it').check();
  await page.getByRole('button', { name: 'Go to the court' }).click();
}

/** From the Start screen to the court, on a first visit: one kit, measures of the invented player. */
export async function beginSensorSet(page: Page, names: Names = USUAL_NAMES): Promise<void> {
  await enterPlayer(page, names);
  await enterPlan(page, names);
  await confirmAndBegin(page);
}

/** The same where player and plan are known from a set before: three taps after "New set". */
export async function beginSensorSetAgain(
  page: Page,
  { player }: Names = USUAL_NAMES,
): Promise<void> {
  await page.getByRole('button', { name: /New set/ }).click();
  await page.getByRole('button', { name: new RegExp(`^${player}`) }).click();
  await confirmAndBegin(page);
}
