import type { SetEvent } from '../recording/set-record.ts';
import type { Swing } from '../swings/swing.ts';
import type { ScoredSwing } from './outputs.ts';

/** What the coach said about contacts, by contact time. Plain data. */
export interface ScoreBook {
  readonly points: Map<number, number>;
  readonly discarded: Set<number>;
}

/**
 * A better method may find the same contact a little earlier or later than the one that was scored;
 * half the refractory time of contacts is never another swing.
 */
const SAME_CONTACT_US = 300_000;

/** Nothing said yet. */
export function createScoreBook(): ScoreBook {
  return { points: new Map(), discarded: new Set() };
}

/** Takes in one event; those that say nothing about a swing change nothing. */
export function noteEvent(book: ScoreBook, event: SetEvent): void {
  switch (event.type) {
    case 'score':
      book.points.set(event.contactTimeUs, event.points);
      break;
    case 'score-withdrawn':
      book.points.delete(event.contactTimeUs);
      break;
    case 'discarded':
      book.discarded.add(event.contactTimeUs);
      break;
    case 'discard-withdrawn':
      book.discarded.delete(event.contactTimeUs);
      break;
    default:
      break;
  }
}

/** A swing with what was said about the contact nearest to it. */
export function scoredSwing(book: ScoreBook, swing: Swing): ScoredSwing {
  const scored = nearest(book.points.keys(), swing.contactTimeUs);
  const discarded = nearest(book.discarded, swing.contactTimeUs);
  return {
    swing,
    points: scored === null ? null : (book.points.get(scored) ?? null),
    discarded: discarded !== null,
  };
}

function nearest(timesUs: Iterable<number>, wantedUs: number): number | null {
  let best: number | null = null;
  for (const timeUs of timesUs) {
    const off = Math.abs(timeUs - wantedUs);
    if (off < SAME_CONTACT_US && (best === null || off < Math.abs(best - wantedUs))) best = timeUs;
  }
  return best;
}
