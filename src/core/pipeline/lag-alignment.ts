import { GRID_GAP, GRID_STEP_US } from '../arm/arm-timeline.ts';
import type { JointLevers } from '../arm/chain-levers.ts';
import type { Segment } from '../arm/segments.ts';
import {
  type ClockMap,
  clockAgeS,
  hostTimeUs,
  slopeUncertainty,
  tickAt,
} from '../clocks/clock-map.ts';
import { estimateLag } from '../clocks/lag.ts';
import { norm } from '../maths/vector.ts';
import { createReading, readTrack, type SensorTrack } from '../orientation/sensor-track.ts';
import type { ArmClocks, ArmTracks } from './arm-sensors.ts';
import type { ShakeState } from './outputs.ts';
import { SWING_US, swingForces } from './swing-forces.ts';

/** Two ticks of neighbouring sensors, unwrapped, that belong to the same instant. */
export interface Anchor {
  readonly aboveTick: number;
  readonly belowTick: number;
}

/**
 * What the clock maps leave: neighbouring sensors feel the same at their joint, or in one shaken hand, and
 * should feel it at the same time. What is learned are pairs of ticks, not lags: a map that gets better later
 * keeps them true. Plain data.
 */
export interface Lags {
  /** How late the signals of each sensor are against the upper arm's, microseconds, shape (3); first 0. */
  readonly appliedUs: [number, number, number];
  /** Recent pairs at elbow and wrist, oldest first. */
  readonly elbow: Anchor[];
  readonly wrist: Anchor[];
  shake: ShakeState;
  /** Instants without a gap since the shake was asked for. */
  shakenInstants: number;
}

/** A shake is looked at over this long: 4 s. */
const SHAKE_INSTANTS = 4e6 / GRID_STEP_US;
/** Largest lag looked for, instants (40 ms). */
const MOST_STEPS = 8;
/** Below this likeness a lag says nothing. */
const LEAST_LIKENESS = 0.9;
/** A shake turns the sensors at least this fast (root mean square), rad/s. */
const LEAST_SHAKE_RAD_S = 1;
/** Pairs whose median lag counts, and the fewest that may move anything; a shake counts as so many. */
const REMEMBERED = 9;
const FEWEST = 3;
/** Error of the median lag of a few swings or of a shake, SD, microseconds. */
const LAG_SD_US = 150;

/** No lags known. */
export function createLags(): Lags {
  return {
    appliedUs: [0, 0, 0],
    elbow: [],
    wrist: [],
    shake: { phase: 'none' },
    shakenInstants: 0,
  };
}

/** A sensor's ticks began anew: what was known of its joints is void. */
export function forgetLags(lags: Lags, segment: Segment): void {
  if (segment !== 'implement') lags.elbow.length = 0;
  if (segment !== 'upperArm') lags.wrist.length = 0;
}

/** Lags by the pairs as the maps are now. */
export function updateLags(lags: Lags, clocks: ArmClocks): void {
  const [upper, fore, implement] = clocks;
  lags.appliedUs[1] = lagUs(lags.elbow, upper, fore);
  lags.appliedUs[2] = lags.appliedUs[1] + lagUs(lags.wrist, fore, implement);
}

// Scratch memory.
const sorted = new Float64Array(REMEMBERED);

/**
 * Median lag of the pairs under the present maps, shrunk where it is no larger than its own error: a pair of
 * long ago says little while the maps' slopes are uncertain, and two alike radios have no lag to correct.
 * Source of the shrinking: positive-part James & Stein 1961, for one number.
 */
function lagUs(anchors: readonly Anchor[], above: ClockMap, below: ClockMap): number {
  const { length } = anchors;
  if (length < FEWEST) return 0;
  let ageS = 0;
  for (let i = 0; i < length; i++) {
    const { aboveTick, belowTick } = anchors[i]!;
    sorted[i] = hostTimeUs(below, belowTick) - hostTimeUs(above, aboveTick);
    ageS += clockAgeS(above, aboveTick);
  }
  sorted.fill(Number.POSITIVE_INFINITY, length).sort();
  const middle = length >> 1;
  const median = length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
  const meanAgeS = ageS / length;
  const slope = Math.hypot(slopeUncertainty(above), slopeUncertainty(below));
  const errorUs = Math.hypot(LAG_SD_US, slope * meanAgeS * 1e6);
  return median * Math.max(0, 1 - (errorUs / median) ** 2 || 0);
}

/** The three sensors are about to be shaken together in one hand. */
export function requestShake(lags: Lags): void {
  lags.shake = { phase: 'shaking' };
  lags.shakenInstants = 0;
}

/**
 * One instant; when a shake that was asked for has lasted long enough it is weighed. The tracks are read
 * again then, all with the maps of this moment: in the first seconds the maps still jump by a millisecond.
 * @param atUs host time of the instant @param flags its grid flags
 */
export function stepShake(
  lags: Lags,
  clocks: ArmClocks,
  tracks: ArmTracks,
  flags: number,
  atUs: number,
): void {
  if (lags.shake.phase !== 'shaking') return;
  lags.shakenInstants = (flags & GRID_GAP) !== 0 ? 0 : lags.shakenInstants + 1;
  if (lags.shakenInstants < SHAKE_INSTANTS) return;
  const [upper, fore, implement] = tracks.map((track, k) =>
    turningRates(track, clocks[k as 0 | 1 | 2], atUs + lags.appliedUs[k as 0 | 1 | 2]),
  );
  const elbow = estimateLag(upper!, fore!, MOST_STEPS);
  const wrist = estimateLag(fore!, implement!, MOST_STEPS);
  const meanSquare = upper!.reduce((sum, rate) => sum + rate * rate, 0) / upper!.length;
  const likeness = Math.min(elbow?.likeness ?? -1, wrist?.likeness ?? -1);
  if (Math.sqrt(meanSquare) < LEAST_SHAKE_RAD_S) {
    const problem = 'The sensors hardly moved. Shake all three in one hand.';
    lags.shake = { phase: 'failed', problem };
  } else if (elbow === null || wrist === null || likeness < LEAST_LIKENESS) {
    const problem =
      'The sensors did not move alike. Hold all three tight together and shake again.';
    lags.shake = { phase: 'failed', problem };
  } else {
    const middleUs = atUs - (SHAKE_INSTANTS * GRID_STEP_US) / 2;
    for (let vote = 0; vote < FEWEST; vote++) {
      remember(lags, clocks, 0, elbow.steps, middleUs);
      remember(lags, clocks, 1, wrist.steps, middleUs);
    }
    updateLags(lags, clocks);
    const [, elbowUs, bothUs] = lags.appliedUs;
    const wristLagMs = (bothUs - elbowUs) / 1000;
    lags.shake = { phase: 'aligned', elbowLagMs: elbowUs / 1000, wristLagMs, likeness };
  }
}

const reading = createReading();

/** Speed of turning of one sensor over the shake that ends at a host time, rad/s. */
function turningRates(track: SensorTrack, clock: ClockMap, endUs: number): Float64Array {
  const rates = new Float64Array(SHAKE_INSTANTS);
  let from = 0;
  for (let n = 0; n < SHAKE_INSTANTS; n++) {
    const tick = tickAt(clock, endUs - (SHAKE_INSTANTS - n) * GRID_STEP_US);
    from = readTrack(track, tick, clock.tickHz, from, reading);
    rates[n] = from < 0 ? Number.NaN : norm(reading.gyr);
  }
  return rates;
}

/** Compares the size of the specific force at elbow and wrist from both sides over the forward swing before a contact. */
export function alignBySwing(
  lags: Lags,
  clocks: ArmClocks,
  tracks: ArmTracks,
  levers: readonly [JointLevers, JointLevers],
  contactUs: number,
): void {
  const forces = swingForces(tracks, clocks, lags.appliedUs, levers, contactUs);
  for (const joint of [0, 1] as const) {
    const { aboveMS2, belowMS2 } = forces[joint];
    if (aboveMS2.length < 4 * MOST_STEPS + 4) continue;
    const lag = estimateLag(aboveMS2, belowMS2, MOST_STEPS);
    if (lag === null || lag.likeness < LEAST_LIKENESS) continue;
    remember(lags, clocks, joint, lag.steps, contactUs - SWING_US / 2);
  }
  updateLags(lags, clocks);
}

/** Keeps the pair of ticks that a lag stands for, seen at an instant of the timeline. */
function remember(lags: Lags, clocks: ArmClocks, joint: 0 | 1, steps: number, atUs: number): void {
  const below = (joint + 1) as 1 | 2;
  const anchors = joint === 0 ? lags.elbow : lags.wrist;
  anchors.push({
    aboveTick: tickAt(clocks[joint], atUs + lags.appliedUs[joint]),
    belowTick: tickAt(clocks[below], atUs + lags.appliedUs[below] + steps * GRID_STEP_US),
  });
  if (anchors.length > REMEMBERED) anchors.shift();
}
