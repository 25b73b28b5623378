import { copy3 } from '../maths/columns.ts';
import { multiply, type Quaternion, quaternion, rotate } from '../maths/quaternion.ts';
import { addScaled, cross, turnAboutZ, type Vector3, vector3 } from '../maths/vector.ts';
import {
  createLowPass,
  type LowPassState,
  lowPassCoefficients,
  stepLowPass,
} from '../orientation/low-pass.ts';
import { SAMPLE_IN_SHOCK, type TrackReading } from '../orientation/sensor-track.ts';
import { VQF_DEFAULTS } from '../orientation/vqf-filter.ts';
import { GRID_STEP_US } from './arm-timeline.ts';
import type { ChainLevers, JointLevers } from './chain-levers.ts';

/**
 * What the arm's own motion does to the filter's idea of the vertical, and its removal.
 *
 * The filter takes the specific force, averaged over some seconds, for the vertical. The speed a sensor gains
 * before contact is in that average; what it loses in the shock is not, since the accelerometer says nothing
 * there. Every swing so leaves the vertical tilted by degrees until long after the next. But the arm is a
 * chain: rates and levers give the velocity of each sensor against the shoulder, and the same average over its
 * change is just that tilt. What is left is the motion of the shoulder. Plain data.
 */
export interface MotionTilt {
  /** One each for upper arm, forearm, implement: the averaged acceleration against the shoulder, earth frame. */
  readonly average: readonly [LowPassState, LowPassState, LowPassState];
  /** Velocity against the shoulder at the last instant, earth frames, m/s, three of shape (3); NaN: not known. */
  readonly velocityMS: readonly [Vector3, Vector3, Vector3];
}

const RATE_HZ = 1e6 / GRID_STEP_US;
/** The filter's own average, or this would not undo what that did. */
const COEFFICIENTS = lowPassCoefficients(VQF_DEFAULTS.tauAccS, 1 / RATE_HZ);
const GRAVITY_MS2 = 9.81;

/** An arm at rest. */
export function createMotionTilt(): MotionTilt {
  const unknown = () => vector3(Number.NaN, Number.NaN, Number.NaN);
  return {
    average: [createLowPass(3), createLowPass(3), createLowPass(3)],
    velocityMS: [unknown(), unknown(), unknown()],
  };
}

/** A sensor's filter began anew: its average holds nothing of earlier motion. */
export function forgetMotion(state: MotionTilt, k: 0 | 1 | 2): void {
  Object.assign(state.average[k], createLowPass(3));
  state.velocityMS[k].fill(Number.NaN);
}

const AT_REST = vector3();
const velocity = vector3();
const part = vector3();
const acceleration = vector3();
const qTilt = quaternion();

/**
 * Takes the tilt that the arm's motion left on each orientation off again, then follows the motion on.
 * Allocation-free.
 * @param readings upper arm, forearm, implement; `qEarthFromSensor` is corrected in place
 * @param isMissing sensors whose reading is no sample of this instant
 * @param levers null while the poses are not taken: then the arm is taken to be at rest
 * @param turnRad turns of the forearm's earth frame onto the upper arm's, of the implement's onto the forearm's
 * Source: own, after the kinematic chain of Seel, Schauer & Raisch 2012, doi 10.1109/CCA.2012.6402423, and the
 * inclination correction of Laidig & Seel 2023, doi 10.1016/j.inffus.2022.10.014, section 3.2 (linear in the force).
 * Checked: tests/arm/motion-tilt.test.ts against a simulated chain.
 */
export function removeMotionTilt(
  state: MotionTilt,
  readings: readonly [TrackReading, TrackReading, TrackReading],
  isMissing: readonly [boolean, boolean, boolean],
  levers: ChainLevers | null,
  turnRad: readonly [number, number],
): void {
  for (let k = 0; k < 3; k++) untilt(readings[k]!.qEarthFromSensor, state.average[k]!.out);
  const upper = readings[0];
  const fore = readings[1];
  const hand = readings[2];
  // A chain with a link missing says nothing of what hangs below it.
  const isForeUnknown = isMissing[0] || isMissing[1];
  copy3(velocity, 0, AT_REST);
  if (levers !== null) addPointVelocity(velocity, upper, levers.toShoulderM, -1);
  follow(state, 0, velocity, upper, isMissing[0]);
  if (levers !== null) passJoint(velocity, upper, fore, levers.elbow, turnRad, 0);
  follow(state, 1, velocity, fore, isForeUnknown);
  if (levers !== null) passJoint(velocity, fore, hand, levers.wrist, turnRad, 1);
  follow(state, 2, velocity, hand, isForeUnknown || isMissing[2]);
}

/** From the velocity of the sensor above a joint to that of the one below, in the earth frame of each. */
function passJoint(
  out: Vector3,
  above: TrackReading,
  below: TrackReading,
  { aboveM, belowM }: JointLevers,
  turnRad: readonly [number, number],
  joint: 0 | 1,
): void {
  addPointVelocity(out, above, aboveM, 1);
  turnAboutZ(out, -turnRad[joint]);
  addPointVelocity(out, below, belowM, -1);
}

/** Averages the change of velocity just where the filter averaged the force: not in a shock, not in a gap. */
function follow(
  state: MotionTilt,
  k: 0 | 1 | 2,
  now: Vector3,
  { flags }: TrackReading,
  isUnknown: boolean,
): void {
  const before = state.velocityMS[k];
  if (isUnknown) {
    before.fill(Number.NaN);
    return;
  }
  if ((flags & SAMPLE_IN_SHOCK) === 0 && !Number.isNaN(before[0]!)) {
    for (let i = 0; i < 3; i++) acceleration[i] = RATE_HZ * (now[i]! - before[i]!);
    stepLowPass(COEFFICIENTS, state.average[k], acceleration);
  }
  copy3(before, 0, now);
}

/** Adds +- R (w x r). */
function addPointVelocity(
  out: Vector3,
  reading: TrackReading,
  leverM: Vector3,
  sign: 1 | -1,
): void {
  rotate(part, reading.qEarthFromSensor, cross(part, reading.gyr, leverM));
  addScaled(out, out, sign, part);
}

/** The averaged force was gravity and this; the shortest turn that brings gravity alone upright. */
function untilt(q: Quaternion, motion: Float64Array): void {
  const x = -motion[0]!;
  const y = -motion[1]!;
  const length = Math.sqrt(x * x + y * y + GRAVITY_MS2 * GRAVITY_MS2);
  const w = length + GRAVITY_MS2;
  const scale = 1 / Math.sqrt(2 * length * w);
  qTilt[0] = scale * w;
  qTilt[1] = scale * y;
  qTilt[2] = -scale * x;
  qTilt[3] = 0;
  multiply(q, qTilt, q);
}
