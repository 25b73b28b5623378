import { type Browser, chromium } from 'playwright-core';
import { spawnChromium } from '../spawn-chromium.ts';

/** A Chromium with a profile of its own, driven from outside and otherwise left as it is. */
export interface SoakChromium {
  readonly browser: Browser;
  stop(): Promise<void>;
}

/**
 * Starts Chromium on a profile directory. Unlike in the other browser tests nothing of it is emulated: playwright
 * would tell every page that it is in front and has the focus, and no tab could ever be hidden.
 */
export async function startSoakChromium(
  executablePath: string,
  profileDir: string,
): Promise<SoakChromium> {
  const { address, kill } = await spawnChromium(executablePath, profileDir);
  try {
    return { browser: await chromium.connectOverCDP(address, { noDefaults: true }), stop: kill };
  } catch (error) {
    await kill();
    throw error;
  }
}
