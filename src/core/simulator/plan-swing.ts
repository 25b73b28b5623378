import { RAD_PER_DEG } from '../maths/angles.ts';
import type { Random } from '../maths/random.ts';
import { reachOf } from './arm-kinematics.ts';
import { addKeyframe, type KeyframeTrack } from './keyframe-track.ts';
import { BALLS, IMPLEMENTS, lengthsOf } from './kit.ts';
import {
  ANGLES,
  CONTACT,
  CONTACT_VELOCITY,
  FOLLOW,
  LATE_HAND_OVER,
  READY,
  radians,
  STIFF_TOP,
  STIFF_VELOCITY,
  TOP,
} from './player-poses.ts';
import type { SessionOptions } from './session-types.ts';

/** One planned swing of the virtual player. Times in seconds of true time. */
export interface PlannedSwing {
  readonly topS: number;
  readonly contactS: number;
  /** Middle of the forward swing deviates by these amplitudes, radians, shape (9). */
  readonly bump: Float64Array;
  /** How early (-) or late (+) the player met the ball, seconds. */
  readonly timingErrorS: number;
}

const BACKSWING_S = 0.75;
const FORWARD_SWING_S = 0.32;
/** The player stands ready again so long after contact, seconds. */
export const READY_AFTER_S = 1.6;

/**
 * Appends one swing to the movement: from ready back to the top, forward through contact, and ready again.
 * @param contactS true time of contact, seconds; of a practice swing, when the ball would have been met
 * @param speed 1 for a usual swing; everything up to contact takes 1 / speed of its time
 */
export function planSwing(
  track: KeyframeTrack,
  options: SessionOptions,
  random: Random,
  contactS: number,
  speed: number,
): PlannedSwing {
  const { strategy } = options;
  const mirror = options.handedness === 'left';
  const ready = radians(READY, mirror);
  const unsteady = IMPLEMENTS[options.implement].unsteadiness;
  const stiff = strategy === 'frozen';
  const top = radians(stiff ? STIFF_TOP : TOP, mirror);
  const contact = radians(CONTACT, mirror);
  const velocity = radians(stiff ? STIFF_VELOCITY : CONTACT_VELOCITY, mirror).map((v, i) =>
    i < ANGLES ? (v / RAD_PER_DEG) * speed * (1 + random.normal(0.03)) : v,
  );
  const forwardS = (FORWARD_SWING_S / speed) * (1 + random.normal(0.05));
  const topS = contactS - forwardS;
  const start = deviations(random, unsteady * (stiff ? 2.5 : 5.5));
  if (stiff) deviateStiffly(random, unsteady, top, contact, start);
  else deviateAndSteer(random, unsteady, options, top, contact, start);
  addKeyframe(track, topS - BACKSWING_S / speed, ready);
  addKeyframe(track, topS, top);
  if (stiff)
    addKeyframe(
      track,
      topS + LATE_HAND_OVER * forwardS,
      ...cockedWrist(top, contact, velocity, forwardS),
    );
  addKeyframe(track, contactS, contact, velocity);
  const follow = radians(FOLLOW, mirror).map((v, i) => (i < ANGLES ? v + random.normal(0.08) : v));
  addKeyframe(track, contactS + 0.42, follow);
  addKeyframe(track, contactS + READY_AFTER_S, ready);
  const bump = stiff ? new Float64Array(ANGLES) : deviations(random, 4 * unsteady);
  return { topS, contactS, bump, timingErrorS: random.normal(BALLS[options.ball].timingSdS) };
}

/** Independent deviations of the nine angles, radians. */
function deviations(random: Random, sdDeg: number): Float64Array {
  return Float64Array.from({ length: ANGLES }, () => random.normal(sdDeg * RAD_PER_DEG));
}

/** Upper arm off at start and contact alike; elbow nearly fixed, wrist off by its own error. */
function deviateStiffly(
  random: Random,
  unsteady: number,
  top: number[],
  contact: number[],
  start: Float64Array,
): void {
  for (let angle = 0; angle < 3; angle++) {
    const elbow = random.normal(1.5 * unsteady * RAD_PER_DEG);
    const wrist = random.normal(8.5 * unsteady * RAD_PER_DEG);
    const parts = [start[angle]!, start[angle]! + elbow, start[angle]! + elbow + wrist];
    for (let k = 0; k < 3; k++) {
      top[3 * k + angle] = top[3 * k + angle]! + parts[k]!;
      contact[3 * k + angle] = contact[3 * k + angle]! + parts[k]!;
    }
  }
}

/** SD of the reach that online control leaves, metres, with the short implement. */
const STEERED_REACH_SD_M = 0.011;

/** Start and contact off independently; forearm and implement then steered so that the reach is nearly right. */
function deviateAndSteer(
  random: Random,
  unsteady: number,
  options: SessionOptions,
  top: number[],
  contact: number[],
  start: Float64Array,
): void {
  const lengths = lengthsOf(options);
  const wanted =
    reachOf(Float64Array.from(contact), lengths) + random.normal(STEERED_REACH_SD_M * unsteady);
  const end = deviations(random, 4 * unsteady);
  for (let i = 0; i < ANGLES; i++) {
    top[i] = top[i]! + start[i]!;
    contact[i] = contact[i]! + end[i]!;
  }
  const steered = [3, 4, 6, 7]; // turn and dip of forearm and implement
  for (let pass = 0; pass < 4; pass++) {
    const channels = Float64Array.from(contact);
    const reach = reachOf(channels, lengths);
    const gradient = steered.map((i) => {
      const moved = Float64Array.from(contact);
      moved[i] = moved[i]! + 1e-5;
      return (reachOf(moved, lengths) - reach) / 1e-5;
    });
    const square = gradient.reduce((sum, g) => sum + g * g, 0);
    steered.forEach((i, n) => {
      contact[i] = contact[i]! + (gradient[n]! * (wanted - reach)) / square;
    });
  }
}

/** Where a stiff arm is shortly before contact: on its way, the wrist still as at the top. */
function cockedWrist(
  top: readonly number[],
  contact: readonly number[],
  velocity: readonly number[],
  forwardS: number,
): [number[], number[]] {
  const leftS = (1 - LATE_HAND_OVER) * forwardS;
  const values = contact.map((v, i) => v - velocity[i]! * leftS * 0.95);
  const velocities = velocity.map((v) => 0.9 * v);
  for (let angle = 0; angle < 3; angle++) {
    const forearm = 3 + angle;
    const hand = 6 + angle;
    values[hand] =
      values[forearm]! +
      0.75 * (top[hand]! - top[forearm]!) +
      0.25 * (contact[hand]! - contact[forearm]!);
    velocities[hand] = velocities[forearm]! + 0.25 * (velocity[hand]! - velocity[forearm]!);
  }
  return [values, velocities];
}
