import { addPing, type ClockPings, createClockPings, leastDelay } from './clock-pings.ts';

/**
 * One sensor's crystal against the host timeline.
 *
 * A notification is never early: its arrival is the true time plus a delay of some milliseconds. With
 * exponentially distributed delays above a common minimum, the most probable line lies below all points
 * (tick, arrival), as high as possible at their mean, and its slope has the crystal's tolerance as prior:
 *   maximise  -n log(yMean - h(s)) - s^2 / (2 sigma_s^2),  h(s) = min_i(y_i - s (x_i - xMean)),
 * the likelihood with the mean delay yMean - h profiled out. It has one maximum, found by golden-section search over s.
 * Source: lower envelope of delays, Moon, Skelly & Towsley 1999 (INFOCOM), doi 10.1109/INFCOM.1999.749287;
 * prior added here so that the first seconds do not invent a skew.
 * Points are thinned to the earliest arrival per second, the last five minutes of them.
 */
export interface ClockMap {
  /** Ticks per second by the sensor's own statement. */
  readonly tickHz: number;
  /** Tick and arrival of the first packet: origin of both axes. */
  tick0: number;
  arrival0Us: number;
  newestTick: number;
  packets: number;
  /** Packets in the ring, and the sums of their x and y, for the mean excess delay. */
  ringPackets: number;
  sumX: number;
  sumY: number;
  /** Ring of the earliest arrival per second: x nominal time since tick0, y arrival - arrival0 - x, microseconds. */
  readonly bucketX: Float64Array;
  readonly bucketY: Float64Array;
  /** Per second: packets and their sums, so that they leave the totals with their second. */
  readonly bucketPackets: Float64Array;
  readonly bucketSumX: Float64Array;
  readonly bucketSumY: Float64Array;
  buckets: number;
  bucketEndX: number;
  /** Envelope: earliest arrival = arrival0 + x + offset + skew * x. */
  offsetUs: number;
  skew: number;
  readonly pings: ClockPings;
  /** Taken off the envelope: the least radio delay as far as pings show it; 0 and NaN without pings. */
  leastDelayUs: number;
  leastDelayHalfWidthUs: number;
  /** Recent excess delays over the envelope, microseconds, ring. */
  readonly delaysUs: Float64Array;
}

const BUCKET_US = 1e6;
const BUCKETS = 300;
const DELAYS = 128;
/** Prior SD of the skew: +-50 ppm parts are good to about half of that. */
const SKEW_SD = 30e-6;
const SKEW_LIMIT = 200e-6;
/** Error of the envelope at its ends, seconds. */
const ENVELOPE_ERROR_S = 0.003;

/** Fresh map. @param tickHz from the sensor's information record */
export function createClockMap(tickHz: number): ClockMap {
  return {
    tickHz,
    tick0: 0,
    arrival0Us: 0,
    newestTick: 0,
    packets: 0,
    ringPackets: 0,
    sumX: 0,
    sumY: 0,
    bucketX: new Float64Array(BUCKETS),
    bucketY: new Float64Array(BUCKETS),
    bucketPackets: new Float64Array(BUCKETS),
    bucketSumX: new Float64Array(BUCKETS),
    bucketSumY: new Float64Array(BUCKETS),
    buckets: 0,
    bucketEndX: 0,
    offsetUs: 0,
    skew: 0,
    pings: createClockPings(),
    leastDelayUs: 0,
    leastDelayHalfWidthUs: Number.NaN,
    delaysUs: new Float64Array(DELAYS),
  };
}

/**
 * Takes in one packet.
 * @param tick unwrapped tick of its last sample @param arrivalUs host time of its arrival
 */
export function observeArrival(map: ClockMap, tick: number, arrivalUs: number): void {
  if (map.packets === 0) {
    map.tick0 = tick;
    map.arrival0Us = arrivalUs;
  }
  const x = ((tick - map.tick0) / map.tickHz) * 1e6;
  const y = arrivalUs - map.arrival0Us - x;
  map.newestTick = tick;
  const fresh = addToBucket(map, x, y);
  map.delaysUs[map.packets % DELAYS] = y - map.offsetUs - map.skew * x;
  map.packets++;
  // Early on every packet may move the envelope a lot; later a new second or a new minimum does.
  if (fresh || map.packets < 60 || y < map.offsetUs + map.skew * x) fit(map);
}

/** A radio delay beyond this is none: the tick belongs to another run of the sensor's counter. */
const MOST_DELAY_US = 2e6;

/**
 * Takes in one answered ping; only after the first packet. One whose tick is far from what the packets say is
 * left out.
 * @param tick unwrapped @param sentUs, answeredUs host times of the write and of its answer
 */
export function observePing(map: ClockMap, tick: number, sentUs: number, answeredUs: number): void {
  const atUs = envelopeUs(map, tick);
  if (atUs < sentUs - MOST_DELAY_US || atUs > answeredUs + MOST_DELAY_US) return;
  addPing(map.pings, tick, sentUs, answeredUs);
  weighPings(map);
}

function weighPings(map: ClockMap): void {
  const { delayUs, halfWidthUs } = leastDelay(map.pings, (tick) => envelopeUs(map, tick));
  map.leastDelayUs = delayUs;
  map.leastDelayHalfWidthUs = halfWidthUs;
}

function envelopeUs(map: ClockMap, tick: number): number {
  const x = ((tick - map.tick0) / map.tickHz) * 1e6;
  return map.arrival0Us + x + map.offsetUs + map.skew * x;
}

/**
 * Host time of an unwrapped tick, microseconds; without pings late by the least radio delay, which nothing
 * that only listens can see.
 */
export function hostTimeUs(map: ClockMap, tick: number): number {
  return envelopeUs(map, tick) - map.leastDelayUs;
}

/** Unwrapped tick (fractional) at a host time, microseconds: the inverse of {@link hostTimeUs}. */
export function tickAt(map: ClockMap, hostUs: number): number {
  const x = (hostUs + map.leastDelayUs - map.arrival0Us - map.offsetUs) / (1 + map.skew);
  return map.tick0 + (x * map.tickHz) / 1e6;
}

/** Seconds from an unwrapped tick to the newest arrival. */
export function clockAgeS(map: ClockMap, tick: number): number {
  return (map.newestTick - tick) / map.tickHz;
}

/**
 * SD of the map's slope, fraction: the crystal's tolerance at first, later what an envelope over so many
 * seconds leaves (measured on delays uniform between 5 and 60 ms, tests/pipeline/clock-truth.test.ts).
 */
export function slopeUncertainty(map: ClockMap): number {
  const spanS = Math.min(BUCKETS, clockAgeS(map, map.tick0));
  return 1 / Math.hypot(1 / SKEW_SD, spanS / ENVELOPE_ERROR_S);
}

/** Spread of the recent radio delays, 95th minus 5th percentile, ms; NaN below 20 packets. */
export function delaySpreadMs(map: ClockMap): number {
  const n = Math.min(map.packets, DELAYS);
  if (n < 20) return Number.NaN;
  const sorted = map.delaysUs.slice(0, n).sort();
  return (sorted[Math.floor(0.95 * (n - 1))]! - sorted[Math.floor(0.05 * (n - 1))]!) / 1000;
}

function addToBucket(map: ClockMap, x: number, y: number): boolean {
  const fresh = map.buckets === 0 || x >= map.bucketEndX;
  if (fresh) openBucket(map, x, y);
  const slot = (map.buckets - 1) % BUCKETS;
  if (y < map.bucketY[slot]!) {
    map.bucketX[slot] = x;
    map.bucketY[slot] = y;
  }
  map.bucketPackets[slot] = map.bucketPackets[slot]! + 1;
  map.bucketSumX[slot] = map.bucketSumX[slot]! + x;
  map.bucketSumY[slot] = map.bucketSumY[slot]! + y;
  map.ringPackets++;
  map.sumX += x;
  map.sumY += y;
  return fresh;
}

function openBucket(map: ClockMap, x: number, y: number): void {
  const slot = map.buckets % BUCKETS;
  map.ringPackets -= map.bucketPackets[slot]!;
  map.sumX -= map.bucketSumX[slot]!;
  map.sumY -= map.bucketSumY[slot]!;
  map.bucketPackets[slot] = 0;
  map.bucketSumX[slot] = 0;
  map.bucketSumY[slot] = 0;
  map.bucketX[slot] = x;
  map.bucketY[slot] = y;
  map.buckets++;
  map.bucketEndX = (Math.floor(x / BUCKET_US) + 1) * BUCKET_US;
}

// Scratch memory: slots of the corners of the lower hull.
const hull = new Int32Array(BUCKETS);

/**
 * The corners of the points' lower hull, into `hull`: on them lies the least of y - s x whatever s is, and they are few of
 * hundreds. Seconds follow each other, so the points ascend in x.
 * @returns how many
 * Source: monotone chain, Andrew 1979, doi 10.1016/0020-0190(79)90072-3.
 * Checked: tests/clocks/clock-map.test.ts against all points.
 */
function lowerHull({ buckets, bucketX, bucketY }: ClockMap): number {
  let corners = 0;
  for (let n = Math.max(0, buckets - BUCKETS); n < buckets; n++) {
    const i = n % BUCKETS;
    while (corners > 1) {
      const a = hull[corners - 2]!;
      const b = hull[corners - 1]!;
      const rise = (bucketY[b]! - bucketY[a]!) * (bucketX[i]! - bucketX[a]!);
      if (rise < (bucketY[i]! - bucketY[a]!) * (bucketX[b]! - bucketX[a]!)) break;
      corners--;
    }
    hull[corners++] = i;
  }
  return corners;
}

function fit(map: ClockMap): void {
  const { bucketX, bucketY } = map;
  const corners = lowerHull(map);
  const xMean = map.sumX / map.ringPackets;
  const height = (skew: number) => {
    let lowest = Number.POSITIVE_INFINITY;
    for (let n = 0; n < corners; n++) {
      const i = hull[n]!;
      lowest = Math.min(lowest, bucketY[i]! - skew * (bucketX[i]! - xMean));
    }
    return lowest;
  };
  const yMean = map.sumY / map.ringPackets;
  const objective = (skew: number) => {
    // at least 1 ms, so that a link without jitter stays finite
    const meanDelayUs = Math.max(1000, yMean - height(skew));
    return -map.ringPackets * Math.log(meanDelayUs) - (skew / SKEW_SD) ** 2 / 2;
  };
  const skew = maximise(objective, -SKEW_LIMIT, SKEW_LIMIT);
  map.skew = skew;
  map.offsetUs = height(skew) - skew * xMean;
  if (map.pings.count > 0) weighPings(map);
}

/** Golden-section search for the maximum of a unimodal function. Source: Kiefer 1953, doi 10.2307/2032161. */
function maximise(f: (x: number) => number, low: number, high: number): number {
  const ratio = (Math.sqrt(5) - 1) / 2;
  let a = low;
  let b = high;
  let c = b - ratio * (b - a);
  let d = a + ratio * (b - a);
  let fc = f(c);
  let fd = f(d);
  for (let i = 0; i < 24; i++) {
    if (fc > fd) {
      b = d;
      d = c;
      fd = fc;
      c = b - ratio * (b - a);
      fc = f(c);
    } else {
      a = c;
      c = d;
      fc = fd;
      d = a + ratio * (b - a);
      fd = f(d);
    }
  }
  return (a + b) / 2;
}
