import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { CHROMIUM_ARGS } from './launch.ts';

/** A running Chromium with a profile of its own. */
export interface SpawnedChromium {
  /** Where playwright's connectOverCDP finds it. */
  readonly address: string;
  /** SIGKILL to the browser and all its processes at once; resolves when they are gone. */
  kill(): Promise<void>;
}

/**
 * Starts Chromium on a profile directory, which may have been used before.
 * Not through playwright's launch: that has no process to kill together with a profile to keep.
 */
export async function spawnChromium(
  executablePath: string,
  profileDir: string,
): Promise<SpawnedChromium> {
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
    // A process group of its own, so that all of Chromium goes at once.
    { detached: true, stdio: ['ignore', 'ignore', 'pipe'] },
  );
  const { pid } = child;
  if (pid === undefined) throw new Error(`${executablePath} did not start`);
  const kill = async (): Promise<void> => {
    if (child.exitCode !== null || child.signalCode !== null) return;
    const gone = once(child, 'exit');
    process.kill(-pid, 'SIGKILL');
    await gone;
  };
  try {
    return { address: await debuggingAddress(child.stderr), kill };
  } catch (error) {
    await kill();
    throw error;
  }
}

/** Chromium says on its error output where it listens. */
async function debuggingAddress(output: NodeJS.ReadableStream): Promise<string> {
  let said = '';
  for await (const chunk of output) {
    said += String(chunk);
    const address = /DevTools listening on (ws:\S+)/.exec(said)?.[1];
    if (address !== undefined) {
      // Nobody reads on: the pipe must not fill up.
      output.resume();
      return address;
    }
  }
  throw new Error(`Chromium ended before it listened:\n${said}`);
}
