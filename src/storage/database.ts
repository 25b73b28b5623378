import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { CatalogueRow } from './catalogue-row.ts';
import type { KeptState } from './kept-state.ts';
import type { CalibrationRow } from './kit-rows.ts';
import type { BallRow, ImplementRow, PlayerRow } from './library-rows.ts';
import { storageErrorFrom, unavailable } from './storage-error.ts';

/**
 * Most of it can be made anew from the set files. Not so what the coach entered and no set knows: players and kit
 * without a set, what was measured of the kit, bench calibrations.
 */
interface LibrarySchema extends DBSchema {
  sets: { key: string; value: CatalogueRow };
  players: { key: string; value: PlayerRow };
  implements: { key: string; value: ImplementRow };
  balls: { key: string; value: BallRow };
  states: { key: string; value: KeptState };
  calibrations: { key: string; value: CalibrationRow };
}

const DATABASE = 'reach-funnel';
/** 2: players, implements, balls and kept states beside the sets. 3: bench calibrations. */
const VERSION = 3;

/**
 * Opened for each use: a connection kept open would block other tabs from a newer version.
 * @throws StorageError when the database is missing or fails
 */
export async function withDatabase<T>(
  use: (database: IDBPDatabase<LibrarySchema>) => Promise<T>,
): Promise<T> {
  // Typed as always present; missing in some private windows.
  if ((globalThis.indexedDB as IDBFactory | undefined) === undefined) throw unavailable();
  try {
    const database = await openDB<LibrarySchema>(DATABASE, VERSION, {
      upgrade,
    });
    try {
      return await use(database);
    } finally {
      database.close();
    }
  } catch (error) {
    throw storageErrorFrom(error);
  }
}

/** From whatever version is there, in steps; a browser that has nothing has version 0. */
function upgrade(fresh: IDBPDatabase<LibrarySchema>, from: number): void {
  if (from < 1) fresh.createObjectStore('sets', { keyPath: 'setId' });
  if (from === 1) {
    // every file is then read anew, and tells its player and kit
    fresh.deleteObjectStore('sets');
    fresh.createObjectStore('sets', { keyPath: 'setId' });
  }
  if (from < 2) {
    fresh.createObjectStore('players', { keyPath: 'player' });
    fresh.createObjectStore('implements', { keyPath: 'implement' });
    fresh.createObjectStore('balls', { keyPath: 'ball' });
    fresh.createObjectStore('states', { keyPath: 'setId' });
  }
  if (from < 3) fresh.createObjectStore('calibrations', { keyPath: 'serial' });
}
