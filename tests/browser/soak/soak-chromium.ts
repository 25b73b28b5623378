import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type Browser, chromium } from 'playwright-core';
import { CHROMIUM_ARGS } from '../launch.ts';

/** A Chromium with a profile of its own, driven from outside and otherwise left as it is. */
export interface SoakChromium {
  readonly browser: Browser;
  stop(): Promise<void>;
}

const START_MS = 30_000;

/**
 * Starts Chromium on a profile directory. Unlike in the other browser tests nothing of it is emulated: playwright
 * would tell every page that it is in front and has the focus, and no tab could ever be hidden.
 */
export async function startSoakChromium(
  executablePath: string,
  profileDir: string,
): Promise<SoakChromium> {
  const child = spawn(
    executablePath,
    [
      ...CHROMIUM_ARGS,
      '--headless=new',
      '--remote-debugging-port=0',
      `--user-data-dir=${profileDir}`,
      '--no-default-browser-check',
      'about:blank',
    ],
    { detached: true, stdio: 'ignore' },
  );
  const { pid } = child;
  if (pid === undefined) throw new Error(`${executablePath} did not start`);
  const stop = async (): Promise<void> => {
    if (child.exitCode !== null || child.signalCode !== null) return;
    const gone = once(child, 'exit');
    // All processes of this Chromium: they are a group of their own.
    process.kill(-pid, 'SIGKILL');
    await gone;
  };
  try {
    const port = await debuggingPort(profileDir);
    const address = `http://127.0.0.1:${port}`;
    return { browser: await chromium.connectOverCDP(address, { noDefaults: true }), stop };
  } catch (error) {
    await stop();
    throw error;
  }
}

/** Chromium writes into its profile where it listens. */
async function debuggingPort(profileDir: string): Promise<string> {
  for (let waitedMs = 0; waitedMs < START_MS; waitedMs += 50) {
    const said = await readFile(join(profileDir, 'DevToolsActivePort'), 'utf8').catch(() => '');
    const port = said.split('\n')[0];
    if (port) return port;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error(`Chromium does not listen after ${START_MS / 1000} s`);
}
