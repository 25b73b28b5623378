import {
  addJointAcceleration,
  createAgreement,
  type HeadingAgreement,
  noteKnock,
  passTime,
  updateAgreement,
} from '../core/arm/heading-agreement.ts';
import { jointSpecificForce } from '../core/arm/joint-acceleration.ts';
import { conjugate, multiply, type Quaternion, quaternion } from '../core/maths/quaternion.ts';
import { norm, vector3 } from '../core/maths/vector.ts';
import type { JointInstant } from './joint-trial.ts';

/** A way to keep the relative orientation of two sensors beside a joint. */
export interface RelativeMethod {
  /** Takes in one instant. @returns qAboveFromBelow of the two sensors then */
  step(instant: JointInstant): Quaternion;
  /**
   * As the pipeline reads a swing: with the heading known once the swing is over.
   * @param then what `step` gave at that instant
   */
  reread(instant: JointInstant, then: Quaternion): Quaternion;
  /** SD it gives its heading, rad; NaN where it gives none. */
  headingSdRad(): number;
}

/** Windows of heading agreement, seconds: as the pipeline (src/core/pipeline/headings.ts). */
const WINDOW_S = 1;

const proximal = vector3();
const distal = vector3();

/**
 * The production method: a heading from joint accelerations in windows of one second, closed by a knock.
 * @param onWindow called after each window closed
 */
export function accelerationMethod(
  onWindow: (state: HeadingAgreement) => void = () => {},
): RelativeMethod {
  const state = createAgreement();
  let wasShocked = false;
  const close = () => {
    updateAgreement(state);
    onWindow(state);
  };
  return {
    headingSdRad: () => Math.sqrt(state.pDelta),
    reread: (instant) => relativeAtHeading(instant, state.deltaRad),
    step: (instant) => {
      const { above, below, stepS, isShocked } = instant;
      const isKnock = isShocked && !wasShocked;
      wasShocked = isShocked;
      if (isKnock) close();
      passTime(state, stepS, (norm(above.gyr) + norm(below.gyr)) * stepS);
      if (isKnock) noteKnock(state);
      if (!isShocked) {
        jointSpecificForce(proximal, above, instant.leverAboveM);
        jointSpecificForce(distal, below, instant.leverBelowM);
        addJointAcceleration(state, proximal, distal);
      }
      if (state.elapsedS >= WINDOW_S) close();
      return relativeAtHeading(instant, state.deltaRad);
    },
  };
}

/** qAboveFromBelow when the earth frame of the sensor below is turned by a heading onto that of the one above. */
export function relativeAtHeading({ above, below }: JointInstant, deltaRad: number): Quaternion {
  const turn = quaternion(Math.cos(deltaRad / 2), 0, 0, Math.sin(deltaRad / 2));
  const qEarthFromBelow = multiply(turn, turn, below.qEarthFromSensor);
  const qAboveFromEarth = conjugate(quaternion(), above.qEarthFromSensor);
  return multiply(qAboveFromEarth, qAboveFromEarth, qEarthFromBelow);
}
