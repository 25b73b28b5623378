import { withDatabase } from './database.ts';
import { kitAfter, type Library, type PlayerRow, playerAfter } from './library-rows.ts';

/**
 * Takes in what a set told; what is known from a later set stays.
 * @throws StorageError when the database cannot be written
 */
export async function learn(told: Library): Promise<void> {
  await withDatabase(async (database) => {
    const change = database.transaction(['players', 'implements', 'balls'], 'readwrite');
    const players = change.objectStore('players');
    for (const row of told.players) {
      const after = playerAfter(row, await players.get(row.player));
      if (after !== null) await players.put(after);
    }
    const implementRows = change.objectStore('implements');
    for (const row of told.implements) {
      const after = kitAfter(row, await implementRows.get(row.implement));
      if (after !== null) await implementRows.put(after);
    }
    const balls = change.objectStore('balls');
    for (const row of told.balls) {
      const after = kitAfter(row, await balls.get(row.ball));
      if (after !== null) await balls.put(after);
    }
    await change.done;
  });
}

/**
 * Keeps a player as the coach has just entered them.
 * @throws StorageError when the database cannot be written
 */
export async function keepPlayer(row: PlayerRow): Promise<void> {
  await withDatabase((database) => database.put('players', row));
}

/**
 * All that is known, latest first.
 * @throws StorageError when the database cannot be read
 */
export async function readLibrary(): Promise<Library> {
  return withDatabase(async (database) => ({
    players: (await database.getAll('players')).sort(latestFirst),
    implements: (await database.getAll('implements')).sort(latestFirst),
    balls: (await database.getAll('balls')).sort(latestFirst),
  }));
}

/**
 * Forgets a player for good.
 * @throws StorageError when the database cannot be written
 */
export async function forgetPlayer(player: string): Promise<void> {
  await withDatabase((database) => database.delete('players', player));
}

type Seen = { readonly seenMs: number };

function latestFirst(a: Seen, b: Seen): number {
  return b.seenMs - a.seenMs;
}
