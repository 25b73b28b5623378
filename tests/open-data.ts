import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/**
 * Path of an open recording made by others. The files are not part of this repository: REACH_FUNNEL_DATA
 * names their folder, by default ../shared/data beside the repository.
 * @returns null when absent; the caller then skips its checks (in CI absence is a failure)
 */
export function openDataFile(name: string): string | null {
  const beside = fileURLToPath(new URL('../../shared/data', import.meta.url));
  const path = join(process.env.REACH_FUNNEL_DATA ?? beside, name);
  if (existsSync(path)) return path;
  const message = `Open data not found: ${path}. Set REACH_FUNNEL_DATA to the folder that holds it.`;
  if (process.env.CI) throw new Error(message);
  console.warn(`${message} Its checks are skipped.`);
  return null;
}
