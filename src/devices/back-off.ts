/** The first wait; each further one is twice as long, up to the longest. */
const FIRST_WAIT_MS = 250;
/** While a sensor's ring may still hold all that was missed, a long wait would lose what it saves. */
const RING_MS = 15_000;
const LONGEST_EARLY_WAIT_MS = 1000;
const LONGEST_WAIT_MS = 4000;
/** A link that is down for longer than this is not sought any more: the coach is asked. */
const GIVE_UP_AFTER_MS = 60_000;

/**
 * How long to wait before the next attempt to remake a link.
 * @param attempt 1 for the first
 * @param downMs how long the link has been down
 * @returns milliseconds, or null when it is time to give up
 */
export function waitBeforeAttempt(attempt: number, downMs: number): number | null {
  if (downMs >= GIVE_UP_AFTER_MS) return null;
  const longestMs = downMs < RING_MS ? LONGEST_EARLY_WAIT_MS : LONGEST_WAIT_MS;
  // 2^20 is far beyond the longest wait and keeps the power finite.
  return Math.min(longestMs, FIRST_WAIT_MS * 2 ** Math.min(attempt - 1, 20));
}
