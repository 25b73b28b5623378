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

/** Some five minutes at one ping every 5 s. */
const PINGS = 64;

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
 *   e - answered <= least delay <= e - sent;
 * the intersection over the recent pings shrinks to what the quickest ways there and back leave. Its middle
 * assumes them alike, as in the Network Time Protocol (Mills 1991, doi 10.1109/26.103043).
 * @param envelopeUs host time of a tick by the envelope of arrivals
 */
export function leastDelay(pings: ClockPings, envelopeUs: (tick: number) => number): LeastDelay {
  const n = Math.min(pings.count, PINGS);
  if (n === 0) return { delayUs: 0, halfWidthUs: Number.NaN };
  let low = 0; // never early
  let high = Number.POSITIVE_INFINITY;
  for (let i = 0; i < n; i++) {
    const atUs = envelopeUs(pings.tick[i]!);
    low = Math.max(low, atUs - pings.answeredUs[i]!);
    high = Math.min(high, atUs - pings.sentUs[i]!);
  }
  return { delayUs: Math.max(0, (low + high) / 2), halfWidthUs: Math.abs(high - low) / 2 };
}
