import type { CDPSession, Page } from 'playwright-core';
import type { Trouble } from './soak-plan.ts';

const CLOCK_STEP_MS = { 'clock-forward': 7 * 60_000, 'clock-back': -11 * 60_000 } as const;
const HIDDEN_MS = 4000;
/** Room left when storage gets full: the file's next step of growth, a megabyte, fails. */
const LAST_ROOM_BYTES = 200_000;

/** Lets `Date` of every page be stepped like the clock of the device; `performance` goes on, as in a device. */
export async function makeClockSteppable(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const RealDate = Date;
    let stepMs = 0;
    globalThis.Date = class extends RealDate {
      constructor(...parts: unknown[]) {
        super(...((parts.length === 0 ? [RealDate.now() + stepMs] : parts) as []));
      }
      static override now(): number {
        return RealDate.now() + stepMs;
      }
    } as DateConstructor;
    Reflect.set(window, 'soakStepClock', (ms: number) => {
      stepMs += ms;
    });
  });
}

/** Brings trouble over the page in which a set runs. */
export async function trouble(page: Page, devtools: CDPSession, what: Trouble): Promise<void> {
  switch (what) {
    case 'clock-forward':
    case 'clock-back':
      await page.evaluate((ms) => Reflect.get(window, 'soakStepClock')(ms), CLOCK_STEP_MS[what]);
      return;
    case 'hidden':
    case 'frozen':
      return hide(page, devtools, what === 'frozen');
    case 'storage-full':
      return fillStorage(page, devtools);
  }
}

async function hide(page: Page, devtools: CDPSession, isFrozen: boolean): Promise<void> {
  const other = await page.context().newPage();
  await other.bringToFront();
  await page.waitForFunction(() => document.visibilityState === 'hidden', null, { polling: 100 });
  if (isFrozen) await devtools.send('Page.setWebLifecycleState', { state: 'frozen' });
  await other.waitForTimeout(HIDDEN_MS);
  if (isFrozen) await devtools.send('Page.setWebLifecycleState', { state: 'active' });
  await page.bringToFront();
  await other.close();
  await page.waitForFunction(() => document.visibilityState === 'visible', null, { polling: 100 });
}

async function fillStorage(page: Page, devtools: CDPSession): Promise<void> {
  const usage = await page.evaluate(async () => (await navigator.storage.estimate()).usage ?? 0);
  const { origin } = new URL(page.url());
  const quotaSize = usage + LAST_ROOM_BYTES;
  await devtools.send('Storage.overrideQuotaForOrigin', { origin, quotaSize });
}

/** Takes {@link trouble} of full storage away. */
export async function freeStorage(page: Page, devtools: CDPSession): Promise<void> {
  const { origin } = new URL(page.url());
  await devtools.send('Storage.overrideQuotaForOrigin', { origin });
}
