import { centimetres, metresOf } from '../controls/centimetres.ts';
import type { Library } from '../library-model.ts';

/** A ball as the library has it. */
export type BallRow = Library['balls'][number];

/** A ball as typed. */
export interface BallEntry {
  readonly ball: string;
  /** NaN until it is typed. */
  readonly diameterCm: number;
  /** Compression or speed in words; may stay empty. */
  readonly compression: string;
}

export const NEW_BALL: BallEntry = { ball: '', diameterCm: Number.NaN, compression: '' };

/** A known ball as the form shows it. */
export function entryOfBall({ ball, diameterM, compression }: BallRow): BallEntry {
  return {
    ball,
    diameterCm: diameterM === undefined ? Number.NaN : centimetres(diameterM),
    compression: compression ?? '',
  };
}

/** The ball to keep. @param seenMs when the coach said so, milliseconds since 1970 (UTC) */
export function ballOfEntry(entry: BallEntry, seenMs: number): BallRow {
  const compression = entry.compression.trim();
  return {
    ball: entry.ball.trim(),
    ...(Number.isNaN(entry.diameterCm) ? {} : { diameterM: metresOf(entry.diameterCm) }),
    ...(compression === '' ? {} : { compression }),
    seenMs,
  };
}
