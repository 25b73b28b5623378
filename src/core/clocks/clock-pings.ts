/**
 * Recent pings of one sensor: each says that a tick happened between a write and its answer. Columns in a
 * ring, microseconds of host time; plain data.
 */
export interface ClockPings {
  count: number;
  /** Unwrapped ticks. */
  readonly tick: Float64Array;
  readonly sentUs: Float64Array;
  readonly answeredUs: Float64Array;
}

/** Some four minutes at one ping a second. */
const PINGS = 256;

/** No pings yet. */
export function createClockPings(): ClockPings {
  return {
    count: 0,
    tick: new Float64Array(PINGS),
    sentUs: new Float64Array(PINGS),
    answeredUs: new Float64Array(PINGS),
  };
}

/** Takes in one ping. @param tick unwrapped */
export function addPing(pings: ClockPings, tick: number, sentUs: number, answeredUs: number): void {
  const slot = pings.count % PINGS;
  pings.tick[slot] = tick;
  pings.sentUs[slot] = sentUs;
  pings.answeredUs[slot] = answeredUs;
  pings.count++;
}

/** How late a line through the earliest arrivals is, and how far that can be off. */
export interface LeastDelay {
  readonly delayUs: number;
  /** Half of what the pings leave open, microseconds; NaN without pings. */
  readonly halfWidthUs: number;
}

/**
 * The least radio delay from pings. With the envelope at e(tick) = true time + least delay, every ping says
 *   e - answered <= least delay,   e - sent = least delay there + excess + least delay back.
 * Half the smallest e - sent assumes both ways alike, as in the Network Time Protocol (Mills 1991,
 * doi 10.1109/26.103043); what even the quickest of n pings lost on its way is taken off as for exponential
 * excess, whose minimum lies (mean - minimum) / (n - 1) above its least value (Lawless 2003, section 4.1.2,
 * from memory).
 * @param envelopeUs host time of a tick by the envelope of arrivals
 */
export function leastDelay(pings: ClockPings, envelopeUs: (tick: number) => number): LeastDelay {
  const n = Math.min(pings.count, PINGS);
  if (n === 0) return { delayUs: 0, halfWidthUs: Number.NaN };
  let low = 0; // never early
  let quickest = Number.POSITIVE_INFINITY;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const atUs = envelopeUs(pings.tick[i]!);
    const there = atUs - pings.sentUs[i]!;
    low = Math.max(low, atUs - pings.answeredUs[i]!);
    quickest = Math.min(quickest, there);
    sum += there;
  }
  const excess = n > 1 ? (sum / n - quickest) / (n - 1) : 0;
  const high = Math.max(low, quickest - excess);
  return { delayUs: Math.max(0, (low + high) / 2), halfWidthUs: Math.abs(quickest - low) / 2 };
}
