import { RAD_PER_DEG } from '../maths/angles.ts';
import type { Random } from '../maths/random.ts';
import { handlingOf } from './handling.ts';
import { addKeyframe, type KeyframeTrack } from './keyframe-track.ts';
import { BALLS, lengthsOf } from './kit.ts';
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
import { deviate, isStiff, swingDeviations } from './swing-errors.ts';

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
  const { strategy, unsteadiness: unsteady, mistiming } = handlingOf(options);
  const mirror = options.handedness === 'left';
  const ready = radians(READY, mirror);
  const stiff = isStiff(strategy);
  const top = radians(stiff ? STIFF_TOP : TOP, mirror);
  const contact = radians(CONTACT, mirror);
  const velocity = radians(stiff ? STIFF_VELOCITY : CONTACT_VELOCITY, mirror).map((v, i) =>
    i < ANGLES ? (v / RAD_PER_DEG) * speed * (1 + random.normal(0.03)) : v,
  );
  const forwardS = (FORWARD_SWING_S / speed) * (1 + random.normal(0.05));
  const topS = contactS - forwardS;
  deviate(random, strategy, unsteady, lengthsOf(options), { top, contact });
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
  const bump = swingDeviations(random, strategy, 4 * unsteady);
  const timingErrorS = random.normal(mistiming * BALLS[options.ball].timingSdS);
  return { topS, contactS, bump, timingErrorS };
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
