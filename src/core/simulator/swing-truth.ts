import { conjugate, multiply, quaternion, rotate, toRotationVector } from '../maths/quaternion.ts';
import { addScaled, dot, normalise, vector3 } from '../maths/vector.ts';
import { ARM_CHANNELS, reachOf, segmentOrientation } from './arm-kinematics.ts';
import type { SwingTruth } from './session-types.ts';
import { movementAt, type PlannedMovement } from './virtual-player.ts';

/** Longest search for the start of a swing, and step of that search, seconds. */
const START_SEARCH_S = 1.2;
const START_STEP_S = 0.0005;

/**
 * Start, reach and reach curve of one swing by the definitions of design.md section 8.
 * @param lengthsM upper arm, forearm, implement, shape (3) @param contactS true time of contact, seconds
 */
export function swingTruth(
  movement: PlannedMovement,
  lengthsM: readonly number[],
  contactS: number,
): SwingTruth {
  const startS = trueStart(movement, contactS);
  const channels = new Float64Array(ARM_CHANNELS);
  const reachCurveM = Float64Array.from({ length: 101 }, (_, percent) => {
    const timeS = startS + ((contactS - startS) * percent) / 100;
    return reachOf(movementAt(movement, timeS, channels), lengthsM);
  });
  return {
    contactTimeUs: contactS * 1e6,
    startTimeUs: startS * 1e6,
    reachM: reachCurveM[100]!,
    reachCurveM,
  };
}

/** Last instant before contact at which the implement turned against its direction of the final 50 ms. */
function trueStart(movement: PlannedMovement, contactS: number): number {
  const axis = vector3();
  for (let back = 0; back < 0.05; back += START_STEP_S) {
    addScaled(axis, axis, 1, implementRate(movement, contactS - back));
  }
  normalise(axis, axis);
  for (let back = 0.05; back < START_SEARCH_S; back += START_STEP_S) {
    if (dot(implementRate(movement, contactS - back), axis) <= 0) return contactS - back;
  }
  return contactS - START_SEARCH_S;
}

const qa = quaternion();
const qb = quaternion();

/** Angular velocity of the implement in the court frame, rad/s. */
function implementRate(movement: PlannedMovement, timeS: number): Float64Array {
  const h = 1e-5;
  const channels = new Float64Array(ARM_CHANNELS);
  segmentOrientation(qa, movementAt(movement, timeS - h, channels), 2);
  segmentOrientation(qb, movementAt(movement, timeS + h, channels), 2);
  const turn = toRotationVector(vector3(), multiply(quaternion(), conjugate(quaternion(), qa), qb));
  rotate(turn, qb, turn);
  return turn.map((x) => x / (2 * h));
}
