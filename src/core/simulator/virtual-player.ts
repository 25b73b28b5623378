import { RAD_PER_DEG } from '../maths/angles.ts';
import type { Random } from '../maths/random.ts';
import { ARM_CHANNELS } from './arm-kinematics.ts';
import { createTrack, evaluateTrack, type KeyframeTrack } from './keyframe-track.ts';
import { type PlannedInterlude, planInterlude } from './plan-interlude.ts';
import { planPoses } from './plan-poses.ts';
import { type PlannedSwing, planSwing, READY_AFTER_S } from './plan-swing.ts';
import { ANGLES, CONTACT, radians } from './player-poses.ts';
import { streamRandom } from './random-streams.ts';
import type { SessionOptions } from './session-types.ts';

/** The whole movement of a session, as far as it is planned: while the session runs, the lists grow. */
export interface PlannedMovement {
  readonly track: KeyframeTrack;
  readonly swings: PlannedSwing[];
  /** The contact the player aims at, shape (12). */
  readonly idealContact: Float64Array;
  /** Slow sway and tremor: amplitude (rad or m), angular frequency, phase per channel, shape (12) each. */
  readonly sway: {
    readonly amplitude: Float64Array;
    readonly rateRadS: Float64Array;
    readonly phase: Float64Array;
  };
  readonly interludes: PlannedInterlude[];
  /** When the sensors fall silent; Infinity while nobody knows. */
  endS: number;
}

const ZERO_AT_S = 1;
const FIRST_CONTACT_S = 12;
/** The sensors go on for so long after the last ball, seconds. */
const AFTERWARDS_S = 3;

/** When the virtual coach asks for the two poses, seconds. */
export const ZERO_REQUEST_S = ZERO_AT_S;

/**
 * Plans the poses and all swings of one block.
 * `distal`: every part deviates, but forearm and hand steer the reach back before contact (online
 * control). `frozen`: the elbow keeps its angle, deviations are carried to contact, the wrist is thrown late.
 * `coupled`: as distal, but with a steadier upper arm; at contact all three are off together in the plane of the
 * swing, so that elbow and wrist make up for each other.
 * `proximal`: as frozen, but what is off is the arm, thrown from the shoulder, while the hand holds the implement's
 * direction: the shoulder's error goes straight into the reach.
 */
export function planMovement(options: SessionOptions, random: Random): PlannedMovement {
  const track = createTrack(ARM_CHANNELS);
  planPoses(track, options, random, 0, options.errors.badPose);
  const begun = { track, swings: [], interludes: [] };
  // A stream of its own: with and without interludes the swings of a seed are the same.
  const between = streamRandom(options.seed, 'interludes');
  planSwings(begun, options, random, between, FIRST_CONTACT_S, options.swings);
  const idealContact = Float64Array.from(radians(CONTACT, options.handedness === 'left'));
  const endS = plannedEndS(begun, FIRST_CONTACT_S);
  return { ...begun, idealContact, sway: planSway(random), endS };
}

/**
 * Appends swings with the kit of `options`, each with its interlude if it has one.
 * @param between random numbers of the interludes @param firstContactS true time, seconds; the player stands ready before
 */
export function planSwings(
  { track, swings, interludes }: Pick<PlannedMovement, 'track' | 'swings' | 'interludes'>,
  options: SessionOptions,
  random: Random,
  between: Random,
  firstContactS: number,
  count: number,
): void {
  let contactS = firstContactS;
  for (let i = 0; i < count; i++) {
    swings.push(planSwing(track, options, random, contactS, 1));
    const interlude = planInterlude(track, options, between, contactS + READY_AFTER_S);
    if (interlude !== null) interludes.push(interlude);
    contactS += Math.max(4, options.swingIntervalS + random.normal(0.1 * options.swingIntervalS));
    if (interlude !== null) contactS += interlude.toS - interlude.fromS;
  }
}

/** When the sensors fall silent if nothing more is planned, seconds. @param atLeastS the player is there until then */
export function plannedEndS(
  { swings, interludes }: Pick<PlannedMovement, 'swings' | 'interludes'>,
  atLeastS: number,
): number {
  const lastS = Math.max(swings.at(-1)?.contactS ?? 0, interludes.at(-1)?.toS ?? 0);
  return Math.max(atLeastS, lastS) + AFTERWARDS_S;
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
