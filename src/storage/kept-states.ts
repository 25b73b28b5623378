import { withDatabase } from './database.ts';
import type { KeptState } from './kept-state.ts';

/**
 * Keeps the state of a set, in place of an older one.
 * @throws StorageError when the database cannot be written
 */
export async function keepState(kept: KeptState): Promise<void> {
  await withDatabase((database) => database.put('states', kept));
}

/**
 * The state kept of a set; undefined when there is none.
 * @throws StorageError when the database cannot be read
 */
export async function keptState(setId: string): Promise<KeptState | undefined> {
  return withDatabase((database) => database.get('states', setId));
}

/**
 * Forgets the state of a set.
 * @throws StorageError when the database cannot be written
 */
export async function forgetState(setId: string): Promise<void> {
  await withDatabase((database) => database.delete('states', setId));
}
