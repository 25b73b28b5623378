import { type Browser, chromium, type Page } from 'playwright-core';
import { assertNoneForeign, watchForeignRequests } from './foreign-requests.ts';
import { spawnChromium } from './spawn-chromium.ts';

/** A Chromium with a profile of its own that can be killed as by a crash or an empty battery. */
export interface KillableChromium {
  readonly page: Page;
  /**
   * SIGKILL to the browser and all its processes at once; resolves when they are gone.
   * @throws Error naming every request that left the app's origin
   */
  kill(): Promise<void>;
}

/** Starts Chromium on a profile directory, which may have been used before, with a page. */
export async function startKillable(
  executablePath: string,
  profileDir: string,
): Promise<KillableChromium> {
  const { address, kill } = await spawnChromium(executablePath, profileDir);
  try {
    const browser = await chromium.connectOverCDP(address);
    const foreign = watchForeignRequests(browser.contexts()[0]!);
    return {
      page: await firstPage(browser),
      kill: async () => {
        await kill();
        assertNoneForeign(foreign);
      },
    };
  } catch (error) {
    await kill();
    throw error;
  }
}

async function firstPage(browser: Browser): Promise<Page> {
  const context = browser.contexts()[0]!;
  return context.pages()[0] ?? (await context.newPage());
}
