import { segmentIndex } from '../arm/segments.ts';
import { RAD_PER_DEG } from '../maths/angles.ts';
import type { Random } from '../maths/random.ts';
import { ARM_CHANNELS, reachOf } from './arm-kinematics.ts';
import { addKeyframe, createTrack, evaluateTrack, type KeyframeTrack } from './keyframe-track.ts';
import { BALLS, IMPLEMENTS, PLAYER_ARM_M } from './kit.ts';
import type { BadPose } from './sensor-errors.ts';
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

/** The whole movement of a session. */
export interface PlannedMovement {
  readonly track: KeyframeTrack;
  readonly swings: readonly PlannedSwing[];
  /** The contact the player aims at, shape (12). */
  readonly idealContact: Float64Array;
  /** Slow sway and tremor: amplitude (rad or m), angular frequency, phase per channel, shape (12) each. */
  readonly sway: {
    readonly amplitude: Float64Array;
    readonly rateRadS: Float64Array;
    readonly phase: Float64Array;
  };
  readonly endS: number;
}

// Turn, dip, twist of upper arm, forearm, implement in degrees, then the shoulder in metres: a
// right-hander's forehand drive in the court frame (x to the target, y left, z up). Invented.
const PLUMB = [0, 90, 0, 0, 90, 0, 0, 90, 0, 0, 0, 1.1];
const POINT = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1.1];
const READY = [-25, 58, -10, 5, 12, 0, 25, -30, 0, 0, 0, 1.05];
const TOP = [-125, 32, -25, -160, -8, -40, -205, -35, -50, -0.12, 0.02, 1.08];
const CONTACT = [-82, 46, 0, -48, 24, -10, -84, 8, 0, 0.1, -0.02, 1.02];
const FOLLOW = [-15, 22, 15, 35, -12, 30, 75, -28, 35, 0.2, 0.03, 1.1];
/** Angular velocity at contact, rad/s, and the shoulder's velocity, m/s. */
const CONTACT_VELOCITY = [4.6, 0.6, 1.5, 9.5, 1.2, 3, 13.5, 2.2, 5, 0.5, -0.1, 0.1];
/** The stiff elbow: forearm turns with the upper arm, the wrist stays cocked until it is thrown late. */
const STIFF_TOP = [-140, 32, -20, -106, 10, -30, -166, -10, -20, -0.12, 0.02, 1.08];
const STIFF_VELOCITY = [7.2, 0.6, 1.5, 7.2, 0.6, 2, 13.5, 2, 4, 0.5, -0.1, 0.1];
const LATE_HAND_OVER = 0.8;

const ZERO_AT_S = 1;
const FIRST_CONTACT_S = 12;
const FORWARD_SWING_S = 0.32;

const ANGLES = 9;

function radians(pose: readonly number[], mirror: boolean): number[] {
  return pose.map((value, i) => {
    // A left-hander is the mirror image in the plane of the target: turn, twist and y change sign.
    const flips = i < ANGLES ? i % 3 !== 1 : i === 10;
    return (mirror && flips ? -value : value) * (i < ANGLES ? RAD_PER_DEG : 1);
  });
}

/** When the virtual coach asks for the two poses, seconds. */
export const ZERO_REQUEST_S = ZERO_AT_S;

/**
 * Plans the poses and all swings.
 * `distal`: every part deviates, but forearm and hand steer the reach back before contact (online
 * control). `frozen`: the elbow keeps its angle, deviations are carried to contact, the wrist is thrown late.
 */
export function planMovement(options: SessionOptions, random: Random): PlannedMovement {
  const mirror = options.handedness === 'left';
  const track = createTrack(ARM_CHANNELS);
  const pose = (base: readonly number[]) =>
    radians(base, mirror).map((v, i) =>
      i < ANGLES ? v + random.normal(options.errors.poseDeg * RAD_PER_DEG) : v,
    );
  const ready = radians(READY, mirror);
  const { badPose, poses } = options.errors;
  const plumb = spoil(pose(PLUMB), 'plumb', badPose);
  const point = spoil(pose(POINT), 'point', badPose);
  if (poses) {
    addKeyframe(track, 0, plumb);
    addKeyframe(track, 4.2, plumb);
    addKeyframe(track, 5.4, point);
    addKeyframe(track, 8.6, point);
  } else addKeyframe(track, 0, ready);
  addKeyframe(track, 10, ready);
  const swings: PlannedSwing[] = [];
  let contactS = FIRST_CONTACT_S;
  for (let i = 0; i < options.swings; i++) {
    swings.push(planSwing(track, options, random, contactS, ready, mirror));
    contactS += Math.max(4, options.swingIntervalS + random.normal(0.1 * options.swingIntervalS));
  }
  const last = swings.at(-1)?.contactS ?? FIRST_CONTACT_S;
  const idealContact = Float64Array.from(radians(CONTACT, mirror));
  return { track, swings, idealContact, sway: planSway(random), endS: last + 3 };
}

/** A pose with one segment held wrong. */
function spoil(channels: number[], pose: BadPose['pose'], bad: BadPose | null): number[] {
  if (bad === null || bad.pose !== pose) return channels;
  const at = 3 * segmentIndex(bad.segment);
  const forward = bad.forwardDeg * RAD_PER_DEG;
  const sideways = bad.sidewaysDeg * RAD_PER_DEG;
  const spoilt = [...channels];
  if (pose === 'point' || sideways === 0) {
    spoilt[at] = spoilt[at]! + (pose === 'point' ? sideways : 0);
    spoilt[at + 1] = spoilt[at + 1]! - forward;
    return spoilt;
  }
  // Hanging, turn and twist are the same turn about the vertical: this one lets the dip lead to the left.
  const lean = Math.atan2(Math.tan(sideways), Math.tan(forward));
  spoilt[at] = spoilt[at]! + lean;
  spoilt[at + 1] = spoilt[at + 1]! - Math.atan(Math.hypot(Math.tan(sideways), Math.tan(forward)));
  spoilt[at + 2] = spoilt[at + 2]! + lean;
  return spoilt;
}

function planSwing(
  track: KeyframeTrack,
  options: SessionOptions,
  random: Random,
  contactS: number,
  ready: readonly number[],
  mirror: boolean,
): PlannedSwing {
  const { strategy } = options;
  const unsteady = IMPLEMENTS[options.implement].unsteadiness;
  const stiff = strategy === 'frozen';
  const top = radians(stiff ? STIFF_TOP : TOP, mirror);
  const contact = radians(CONTACT, mirror);
  const velocity = radians(stiff ? STIFF_VELOCITY : CONTACT_VELOCITY, mirror).map((v, i) =>
    i < ANGLES ? (v / RAD_PER_DEG) * (1 + random.normal(0.03)) : v,
  );
  const forwardS = FORWARD_SWING_S * (1 + random.normal(0.05));
  const topS = contactS - forwardS;
  const start = deviations(random, unsteady * (stiff ? 2.5 : 5.5));
  if (stiff) deviateStiffly(random, unsteady, top, contact, start);
  else deviateAndSteer(random, unsteady, options, top, contact, start);
  addKeyframe(track, topS - 0.75, ready);
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
  addKeyframe(track, contactS + 1.6, ready);
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

function planSway(random: Random): PlannedMovement['sway'] {
  const amplitude = new Float64Array(ARM_CHANNELS);
  const rateRadS = new Float64Array(ARM_CHANNELS);
  const phase = new Float64Array(ARM_CHANNELS);
  for (let i = 0; i < ARM_CHANNELS; i++) {
    amplitude[i] = i < ANGLES ? 0.15 * RAD_PER_DEG : 0.012;
    rateRadS[i] = 2 * Math.PI * (i < ANGLES ? random.uniform(0.8, 2.5) : random.uniform(0.15, 0.4));
    phase[i] = random.uniform(0, 2 * Math.PI);
  }
  return { amplitude, rateRadS, phase };
}

/** Upper arm, forearm, implement of the invented player, metres, shape (3). */
export function lengthsOf(options: SessionOptions): readonly [number, number, number] {
  return [
    PLAYER_ARM_M.upperArm,
    PLAYER_ARM_M.forearm,
    IMPLEMENTS[options.implement].wristToSweetSpotM,
  ];
}

/**
 * The movement at a true time.
 * @param out shape (12): nine angles in radians, shoulder in metres
 */
export function movementAt(
  movement: PlannedMovement,
  timeS: number,
  out: Float64Array,
): Float64Array {
  evaluateTrack(movement.track, timeS, out);
  const { amplitude, rateRadS, phase } = movement.sway;
  for (let i = 0; i < ARM_CHANNELS; i++) {
    out[i] = out[i]! + amplitude[i]! * Math.sin(rateRadS[i]! * timeS + phase[i]!);
  }
  const swing = swingAround(movement.swings, timeS);
  if (swing !== null) {
    const u = (timeS - swing.topS) / (swing.contactS - swing.topS);
    if (u > 0 && u < 1) {
      const shape = (4 * u * (1 - u)) ** 3;
      for (let i = 0; i < ANGLES; i++) out[i] = out[i]! + shape * swing.bump[i]!;
    }
  }
  return out;
}

function swingAround(swings: readonly PlannedSwing[], timeS: number): PlannedSwing | null {
  let low = 0;
  let high = swings.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const swing = swings[middle]!;
    if (timeS < swing.topS) high = middle - 1;
    else if (timeS > swing.contactS) low = middle + 1;
    else return swing;
  }
  return null;
}
