import { readFileSync } from 'node:fs';
import { readSet, type StoredSet } from '../../core/recording/set-reader.ts';

/** What is measured with: a set of 20 swings. */
export const DEMO_FILE = 'recorded-streams/player-a-short-racket.mcap';

/** The demo set, read. @throws Error when it is damaged */
export function readDemo(): StoredSet {
  const result = readSet(readFileSync(DEMO_FILE));
  if (!result.ok) throw new Error(`${DEMO_FILE}: ${result.error.message}`);
  return result.set;
}
