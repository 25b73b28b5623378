import {
  type ArmTimeline,
  GRID_GAP,
  GRID_IN_SHOCK,
  GRID_STEP_US,
  instantAt,
  oldestInstant,
  slotOf,
} from '../arm/arm-timeline.ts';
import { estimateLag, type Lag } from '../clocks/lag.ts';
import { norm, type Vector3 } from '../maths/vector.ts';
import type { ShakeState } from './outputs.ts';

/**
 * What the clock maps leave: neighbouring sensors feel the same at their joint, or in one shaken hand, and
 * should feel it at the same time. Plain data.
 */
export interface Lags {
  /** How late the signals of each sensor are against the upper arm's, microseconds, shape (3); first 0. */
  readonly appliedUs: [number, number, number];
  /** Whole lags that recent swings showed at elbow and wrist, microseconds. */
  readonly elbowUs: number[];
  readonly wristUs: number[];
  shake: ShakeState;
  /** Turning rates while the sensors are shaken, per sensor. */
  readonly shaken: readonly [number[], number[], number[]];
}

/** A shake is looked at over this long. */
const SHAKE_S = 4;
/** Largest lag looked for, instants (40 ms). */
const MOST_STEPS = 8;
/** Below this likeness a lag says nothing. */
const LEAST_LIKENESS = 0.9;
/** A shake turns the sensors at least this fast (root mean square), rad/s. */
const LEAST_SHAKE_RAD_S = 1;
/** The forward swing before contact that is compared. */
const SWING_US = 600_000;
/** Swings whose median lag counts, and the fewest that may move anything. */
const REMEMBERED = 9;
const FEWEST = 3;

/** No lags known. */
export function createLags(): Lags {
  return {
    appliedUs: [0, 0, 0],
    elbowUs: [],
    wristUs: [],
    shake: { phase: 'none' },
    shaken: [[], [], []],
  };
}

/** The three sensors are about to be shaken together in one hand. */
export function requestShake(lags: Lags): void {
  lags.shake = { phase: 'shaking' };
  for (const rates of lags.shaken) rates.length = 0;
}

/** One instant; while a shake was asked for, it is collected and weighed when long enough. */
export function stepShake(lags: Lags, gyr: readonly Vector3[], flags: number): void {
  if (lags.shake.phase !== 'shaking') return;
  if ((flags & GRID_GAP) !== 0) {
    for (const rates of lags.shaken) rates.length = 0;
    return;
  }
  lags.shaken.forEach((rates, k) => {
    rates.push(norm(gyr[k]!));
  });
  if (lags.shaken[0].length < (SHAKE_S * 1e6) / GRID_STEP_US) return;
  const [upper, fore, implement] = lags.shaken.map((rates) => Float64Array.from(rates));
  const meanSquare = upper!.reduce((sum, rate) => sum + rate * rate, 0) / upper!.length;
  const elbow = estimateLag(upper!, fore!, MOST_STEPS);
  const wrist = estimateLag(fore!, implement!, MOST_STEPS);
  lags.shake = weighShake(lags, Math.sqrt(meanSquare), elbow, wrist);
  for (const rates of lags.shaken) rates.length = 0;
}

function weighShake(
  lags: Lags,
  rateRadS: number,
  elbow: Lag | null,
  wrist: Lag | null,
): ShakeState {
  if (rateRadS < LEAST_SHAKE_RAD_S) {
    return { phase: 'failed', problem: 'The sensors hardly moved. Shake all three in one hand.' };
  }
  const likeness = Math.min(elbow?.likeness ?? -1, wrist?.likeness ?? -1);
  if (elbow === null || wrist === null || likeness < LEAST_LIKENESS) {
    return {
      phase: 'failed',
      problem: 'The sensors did not move alike. Hold all three tight together and shake again.',
    };
  }
  const elbowUs = lags.appliedUs[1] + elbow.steps * GRID_STEP_US;
  const wristUs = lags.appliedUs[2] - lags.appliedUs[1] + wrist.steps * GRID_STEP_US;
  apply(lags, elbowUs, wristUs);
  return {
    phase: 'aligned',
    elbowLagMs: elbowUs / 1000,
    wristLagMs: wristUs / 1000,
    likeness,
  };
}

function apply(lags: Lags, elbowUs: number, wristUs: number): void {
  lags.appliedUs[1] = elbowUs;
  lags.appliedUs[2] = elbowUs + wristUs;
}

/**
 * Compares the specific force at elbow and wrist from both sides over a forward swing, and follows the
 * median of recent swings.
 */
export function alignBySwing(lags: Lags, timeline: ArmTimeline, contactUs: number): void {
  const elbow = swingLagUs(timeline, contactUs, 0);
  const wrist = swingLagUs(timeline, contactUs, 1);
  if (elbow !== null) remember(lags.elbowUs, lags.appliedUs[1] + elbow);
  if (wrist !== null) remember(lags.wristUs, lags.appliedUs[2] - lags.appliedUs[1] + wrist);
  apply(
    lags,
    medianOf(lags.elbowUs) ?? lags.appliedUs[1],
    medianOf(lags.wristUs) ?? lags.appliedUs[2] - lags.appliedUs[1],
  );
}

function swingLagUs(timeline: ArmTimeline, contactUs: number, joint: 0 | 1): number | null {
  let last = instantAt(timeline, contactUs);
  const first = Math.max(oldestInstant(timeline), last - SWING_US / GRID_STEP_US);
  while (last > first && (timeline.flags[slotOf(last)]! & GRID_IN_SHOCK) !== 0) last--;
  const length = last - first;
  if (length < 4 * MOST_STEPS + 4) return null;
  const above = new Float64Array(length);
  const below = new Float64Array(length);
  for (let i = 0; i < length; i++) {
    const slot = 4 * slotOf(first + i) + 2 * joint;
    above[i] = timeline.jointForceMS2[slot]!;
    below[i] = timeline.jointForceMS2[slot + 1]!;
  }
  const lag = estimateLag(above, below, MOST_STEPS);
  return lag === null || lag.likeness < LEAST_LIKENESS ? null : lag.steps * GRID_STEP_US;
}

function remember(lagsUs: number[], lagUs: number): void {
  lagsUs.push(lagUs);
  if (lagsUs.length > REMEMBERED) lagsUs.shift();
}

function medianOf(valuesUs: readonly number[]): number | null {
  if (valuesUs.length < FEWEST) return null;
  const sorted = [...valuesUs].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
