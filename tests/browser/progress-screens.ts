import type { Page } from 'playwright-core';
import type { AppUnderTest, ScreenState } from './every-screen.ts';
import { bringIn, setOfTwoKits, weeksOfSets } from './weeks-of-sets.ts';

/** The screens of the weeks and of the report. */
export const PROGRESS_SCREENS: readonly ScreenState[] = [
  { name: 'progress', arrive: progress },
  { name: 'progress-players', arrive: progressPlayers },
  { name: 'report', arrive: report },
];

async function progressPlayers(page: Page, { baseUrl, names }: AppUnderTest): Promise<void> {
  const sets = weeksOfSets(2, names, 10);
  await bringIn(
    page,
    baseUrl,
    sets.map(({ file }) => file),
  );
  await page.goto(`${baseUrl}#/progress`);
  await page.getByRole('link', { name: names.player }).waitFor();
}

async function progress(page: Page, app: AppUnderTest): Promise<void> {
  await progressPlayers(page, app);
  await page.getByRole('link', { name: app.names.player }).click();
  await page.locator('.progress-grid').waitFor({ timeout: 60_000 });
}

async function report(page: Page, { baseUrl, names }: AppUnderTest): Promise<void> {
  await bringIn(page, baseUrl, [setOfTwoKits(names).file]);
  await page.goto(`${baseUrl}#/report/two-kits`);
  await page.locator('.sheet-numbers').waitFor({ timeout: 60_000 });
}
