import type { Page } from 'playwright-core';
import type { AppUnderTest, ScreenState } from './every-screen.ts';
import { bringIn, setOfTwoKits } from './weeks-of-sets.ts';

/** The screens that compare. */
export const SIDE_BY_SIDE_SCREENS: readonly ScreenState[] = [
  { name: 'side-by-side', arrive: sideBySide },
  { name: 'side-by-side-players', arrive: players },
];

async function players(page: Page, { baseUrl, names }: AppUnderTest): Promise<void> {
  await bringIn(page, baseUrl, [setOfTwoKits(names).file]);
  await page.goto(`${baseUrl}#/side-by-side`);
  await page.getByRole('link', { name: names.player }).waitFor();
}

async function sideBySide(page: Page, app: AppUnderTest): Promise<void> {
  await players(page, app);
  await page.getByRole('link', { name: app.names.player }).click();
  await page.locator('.side-answer').waitFor({ timeout: 60_000 });
  await page.locator('.side-a summary').click();
}
