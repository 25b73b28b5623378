import type { SetEvent } from '../recording/set-record.ts';
import type { SwingEnds } from '../swings/moved-ends.ts';
import type { ScoredSwing } from './outputs.ts';

/** What the coach said about contacts, by contact time. Plain data. */
export interface ScoreBook {
  readonly points: Map<number, number>;
  /** Why, in the coach's words; null when nobody said. */
  readonly discarded: Map<number, string | null>;
  readonly landings: Map<number, readonly [beyondM: number, leftM: number]>;
  readonly ends: Map<number, SwingEnds>;
  /** Contacts after which the program told the player the reach. */
  readonly cued: Map<number, 'tone' | 'speech'>;
  /** By the time at which they were said, host time in microseconds. */
  readonly notes: Map<number, string>;
}

/**
 * A better method may find the same contact a little earlier or later than the one that was scored;
 * half the refractory time of contacts is never another swing.
 */
const SAME_CONTACT_US = 300_000;
/** A file keeps times to the nanosecond; no two notes are said within a millisecond. */
const SAME_NOTE_US = 1000;

/** Nothing said yet. */
export function createScoreBook(): ScoreBook {
  return {
    points: new Map(),
    discarded: new Map(),
    landings: new Map(),
    ends: new Map(),
    cued: new Map(),
    notes: new Map(),
  };
}

/** Takes in one event; those in which the coach says nothing change nothing. @param atUs when it was said, host time */
export function noteEvent(book: ScoreBook, event: SetEvent, atUs: number): void {
  switch (event.type) {
    case 'score':
      book.points.set(event.contactTimeUs, event.points);
      break;
    case 'score-withdrawn':
      book.points.delete(event.contactTimeUs);
      break;
    case 'discarded':
      book.discarded.set(event.contactTimeUs, event.reason ?? null);
      break;
    case 'discard-withdrawn':
      book.discarded.delete(event.contactTimeUs);
      break;
    case 'landed':
      book.landings.set(event.contactTimeUs, [event.beyondM, event.leftM]);
      break;
    case 'landing-withdrawn':
      book.landings.delete(event.contactTimeUs);
      break;
    case 'ends-moved':
      book.ends.set(event.contactTimeUs, { startUs: event.startsAtUs, contactUs: event.endsAtUs });
      break;
    case 'ends-restored':
      book.ends.delete(event.contactTimeUs);
      break;
    case 'cued':
      book.cued.set(event.contactTimeUs, event.cue);
      break;
    case 'note':
      book.notes.set(atUs, event.text);
      break;
    case 'note-withdrawn':
      for (const saidUs of book.notes.keys()) {
        if (Math.abs(saidUs - event.noteTimeUs) < SAME_NOTE_US) book.notes.delete(saidUs);
      }
      break;
    default:
      break;
  }
}

/** A swing with what was said about the contact nearest to the one that was found. */
export function scoredSwing(
  book: ScoreBook,
  at: Pick<ScoredSwing, 'swing' | 'foundContactUs' | 'block'>,
): ScoredSwing {
  const { foundContactUs } = at;
  const discarded = nearest(book.discarded, foundContactUs);
  return {
    ...at,
    points: nearest(book.points, foundContactUs) ?? null,
    discarded: discarded !== undefined,
    discardReason: discarded ?? null,
    landingM: nearest(book.landings, foundContactUs) ?? null,
    endsMoved: endsOf(book, foundContactUs) !== null,
    cued: nearest(book.cued, foundContactUs) !== undefined,
  };
}

/** Where the coach moved the ends of the swing with this contact, host time in microseconds; null: nowhere. */
export function endsOf(book: ScoreBook, contactTimeUs: number): SwingEnds | null {
  return nearest(book.ends, contactTimeUs) ?? null;
}

/** What was said about the contact nearest to a time; undefined when there is none near. */
function nearest<T>(said: ReadonlyMap<number, T>, wantedUs: number): T | undefined {
  let best = SAME_CONTACT_US;
  let found: T | undefined;
  for (const [timeUs, value] of said) {
    const off = Math.abs(timeUs - wantedUs);
    if (off >= best) continue;
    best = off;
    found = value;
  }
  return found;
}
