import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { EVERY_SCREEN } from './every-screen.ts';
import { launchChromium, openPage } from './launch.ts';
import { axeViolations, motions, overflows, smallTargets, tabTroubles } from './screen-checks.ts';
import { LONG_NAMES } from './screen-names.ts';

const underTest = inject('browserUnderTest');

const PHONE = { width: 390, height: 844 };
const TABLET = { width: 820, height: 1180 };
const LAPTOP = { width: 1440, height: 900 };
/** Nothing but colours differs between light and dark. */
const RULES_ON_COLOUR = ['color-contrast', 'link-in-text-block'];
/** Zoomed to 200 %, half as many CSS pixels are left. */
const zoomed = ({ width, height }: typeof PHONE) => ({ width: width / 2, height: height / 2 });

describe.skipIf(underTest === null)('every screen, with names of 40 characters', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium(chromiumPath);
  });
  afterAll(() => browser.close());

  it.each(EVERY_SCREEN)('$name is operable and readable by everyone', async ({ arrive }) => {
    const { page, context, assertNoErrors } = await openPage(browser);
    await page.emulateMedia({ reducedMotion: 'reduce' });
    await arrive(page, { baseUrl, names: LONG_NAMES });
    const found: string[] = [];
    const note = (where: string, troubles: readonly string[]): void => {
      found.push(...troubles.map((trouble) => `${where}: ${trouble}`));
    };
    for (const size of [PHONE, TABLET, LAPTOP, ...[PHONE, TABLET, LAPTOP].map(zoomed)]) {
      await resize(page, size);
      const where = `${size.width} x ${size.height}`;
      note(where, await overflows(page));
      note(where, await smallTargets(page));
    }
    for (const size of [PHONE, LAPTOP]) {
      await resize(page, size);
      note(`${size.width} light`, await axeViolations(page));
      await page.emulateMedia({ colorScheme: 'dark' });
      note(`${size.width} dark`, await axeViolations(page, RULES_ON_COLOUR));
      await page.emulateMedia({ colorScheme: 'light' });
    }
    await resize(page, PHONE);
    note('Tab key', await tabTroubles(page));
    note('reduced motion', await motions(page));
    expect(found).toEqual([]);
    assertNoErrors();
    await context.close();
  });
});

/** Charts follow a new size a frame later. */
async function resize(page: Page, size: typeof PHONE): Promise<void> {
  await page.setViewportSize(size);
  await page.evaluate(
    () => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))),
  );
}
