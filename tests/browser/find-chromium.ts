import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome'];

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/**
 * @returns path of the browser to drive, null if the machine has none
 * @throws Error if CHROMIUM_PATH names something that cannot be run
 */
export function findChromium(): string | null {
  const named = process.env.CHROMIUM_PATH;
  if (named !== undefined && named !== '') {
    if (!isExecutable(named)) throw new Error(`CHROMIUM_PATH is not an executable file: ${named}`);
    return named;
  }
  const folders = (process.env.PATH ?? '').split(delimiter).filter((folder) => folder !== '');
  const candidates = NAMES.flatMap((name) => folders.map((folder) => join(folder, name)));
  return ['/usr/bin/chromium', ...candidates].find(isExecutable) ?? null;
}
