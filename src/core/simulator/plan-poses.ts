import { segmentIndex } from '../arm/segments.ts';
import { RAD_PER_DEG } from '../maths/angles.ts';
import type { Random } from '../maths/random.ts';
import { addKeyframe, type KeyframeTrack } from './keyframe-track.ts';
import { ANGLES, PLUMB, POINT, READY, radians } from './player-poses.ts';
import type { BadPose } from './sensor-errors.ts';
import type { SessionOptions } from './session-types.ts';

/** From the arm hanging still to standing ready after both poses, seconds. */
export const POSES_S = 10;

/**
 * Appends the two poses and standing ready after them; whoever never holds poses stands ready as long.
 * @param plumbS the arm hangs from then on, seconds @param badPose what is held wrong this time
 */
export function planPoses(
  track: KeyframeTrack,
  { handedness, errors }: SessionOptions,
  random: Random,
  plumbS: number,
  badPose: BadPose | null,
): void {
  const mirror = handedness === 'left';
  const pose = (base: readonly number[]) =>
    radians(base, mirror).map((v, i) =>
      i < ANGLES ? v + random.normal(errors.poseDeg * RAD_PER_DEG) : v,
    );
  const ready = radians(READY, mirror);
  const plumb = spoil(pose(PLUMB), 'plumb', badPose);
  const point = spoil(pose(POINT), 'point', badPose);
  if (errors.poses) {
    addKeyframe(track, plumbS, plumb);
    addKeyframe(track, plumbS + 4.2, plumb);
    addKeyframe(track, plumbS + 5.4, point);
    addKeyframe(track, plumbS + 8.6, point);
  } else addKeyframe(track, plumbS, ready);
  addKeyframe(track, plumbS + POSES_S, ready);
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
