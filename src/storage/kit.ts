import { withDatabase } from './database.ts';
import type { CalibrationRow } from './kit-rows.ts';
import type { BallRow, ImplementRow } from './library-rows.ts';

/** One change of the kit, by the coach. A name that is there already is written over. */
export type KitChange =
  | { readonly type: 'keep-implement'; readonly implement: ImplementRow }
  | { readonly type: 'forget-implement'; readonly implement: string }
  | { readonly type: 'keep-ball'; readonly ball: BallRow }
  | { readonly type: 'forget-ball'; readonly ball: string }
  | { readonly type: 'keep-calibration'; readonly calibration: CalibrationRow }
  | { readonly type: 'forget-calibration'; readonly serial: string };

/**
 * Makes one change. Sets keep what was used in them, and a set played or read anew tells it again.
 * @throws StorageError when the database cannot be written
 */
export async function changeKit(change: KitChange): Promise<void> {
  await withDatabase(async (database) => {
    switch (change.type) {
      case 'keep-implement':
        await database.put('implements', change.implement);
        return;
      case 'forget-implement':
        return database.delete('implements', change.implement);
      case 'keep-ball':
        await database.put('balls', change.ball);
        return;
      case 'forget-ball':
        return database.delete('balls', change.ball);
      case 'keep-calibration':
        await database.put('calibrations', change.calibration);
        return;
      case 'forget-calibration':
        return database.delete('calibrations', change.serial);
    }
  });
}

/**
 * All bench calibrations, latest first.
 * @throws StorageError when the database cannot be read
 */
export async function readCalibrations(): Promise<readonly CalibrationRow[]> {
  const rows = await withDatabase((database) => database.getAll('calibrations'));
  return rows.sort((a, b) => b.calibratedMs - a.calibratedMs);
}
