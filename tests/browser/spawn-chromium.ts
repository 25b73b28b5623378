import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { CHROMIUM_ARGS } from './launch.ts';

const START_MS = 30_000;
/** Characters of its error output that are kept. */
const MOST_SAID = 10_000;

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
function debuggingAddress(output: NodeJS.ReadableStream): Promise<string> {
  let said = '';
  return new Promise((resolve, reject) => {
    const fail = () => reject(new Error(`Chromium does not listen:\n${said}`));
    const timer = setTimeout(fail, START_MS);
    output.once('end', fail);
    // It is read on for ever, or its pipe would fill up.
    output.on('data', (chunk) => {
      said = `${said}${chunk}`.slice(-MOST_SAID);
      const address = /DevTools listening on (ws:\S+)/.exec(said)?.[1];
      if (address === undefined) return;
      clearTimeout(timer);
      resolve(address);
    });
  });
}
