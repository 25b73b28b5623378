import { segmentIndex } from '../arm/segments.ts';
import { RAD_PER_DEG } from '../maths/angles.ts';
import { type Random, seededRandom } from '../maths/random.ts';
import { ARM_CHANNELS } from './arm-kinematics.ts';
import { addKeyframe, createTrack, evaluateTrack, type KeyframeTrack } from './keyframe-track.ts';
import { type PlannedInterlude, planInterlude } from './plan-interlude.ts';
import { type PlannedSwing, planSwing, READY_AFTER_S } from './plan-swing.ts';
import { ANGLES, CONTACT, PLUMB, POINT, READY, radians } from './player-poses.ts';
import type { BadPose } from './sensor-errors.ts';
import type { SessionOptions } from './session-types.ts';

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
  readonly interludes: readonly PlannedInterlude[];
  readonly endS: number;
}

const ZERO_AT_S = 1;
const FIRST_CONTACT_S = 12;
/** Of the random streams of a seed: 1 to 3 are the sensors, 8 to 10 their pings. */
const INTERLUDE_STREAM = 12;

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
  const interludes: PlannedInterlude[] = [];
  // A stream of its own: with and without interludes the swings of a seed are the same.
  const between = seededRandom(options.seed * 16 + INTERLUDE_STREAM);
  let contactS = FIRST_CONTACT_S;
  for (let i = 0; i < options.swings; i++) {
    swings.push(planSwing(track, options, random, contactS, 1));
    const interlude = planInterlude(track, options, between, contactS + READY_AFTER_S);
    if (interlude !== null) interludes.push(interlude);
    contactS += Math.max(4, options.swingIntervalS + random.normal(0.1 * options.swingIntervalS));
    if (interlude !== null) contactS += interlude.toS - interlude.fromS;
  }
  const last = swings.at(-1)?.contactS ?? FIRST_CONTACT_S;
  const endS = Math.max(last, interludes.at(-1)?.toS ?? 0) + 3;
  const idealContact = Float64Array.from(radians(CONTACT, mirror));
  return { track, swings, idealContact, sway: planSway(random), interludes, endS };
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
