import type { Page } from 'playwright-core';

/** Starts the simulated player from the Start screen. */
export async function startSimulatedSet(page: Page, speed: 'As in life' | '4 times' | '20 times') {
  await page.getByRole('button', { name: /Simulated player/ }).click();
  await page.getByText(speed).click();
  await page.getByRole('button', { name: 'Start simulated set' }).click();
}

/** Waits until the pad means this swing or a later one. */
export async function waitForSwing(page: Page, number: number) {
  await page.waitForFunction(
    (wanted) => Number(/Score swing (\d+)/.exec(document.body.textContent)?.[1] ?? 0) >= wanted,
    number,
    { timeout: 60_000 },
  );
  // Until then a tap is taken for one aimed at the swing before (src/screens/court/steady-target.ts).
  await page.waitForTimeout(450);
}

/** Ends the running set: a panel asks how. */
export async function endSet(page: Page) {
  await page.getByRole('button', { name: 'End set' }).click();
  await page.getByRole('button', { name: 'End, back to Start' }).click();
  await page.getByRole('heading', { name: 'Recent sets' }).waitFor();
}
