import { GRID_IN_SHOCK, GRID_STEP_US, noteJointForce } from '../arm/arm-timeline.ts';
import { addJointAcceleration, passTime, updateAgreement } from '../arm/heading-agreement.ts';
import { jointSpecificForce } from '../arm/joint-acceleration.ts';
import { SEGMENTS } from '../arm/segments.ts';
import { norm, vector3 } from '../maths/vector.ts';
import { SAMPLE_BEFORE_SHOCK, SAMPLE_IN_SHOCK } from '../orientation/sensor-track.ts';
import type { SetDescription } from '../recording/set-description.ts';
import type { ArmReadings, ArmState } from './arm-state.ts';
import type { PipelineParams } from './params.ts';

/** Windows of heading agreement between contacts, seconds. */
const WINDOW_S = 1;

const proximal = vector3();
const distal = vector3();

/**
 * Compares both sensors of each joint at the instant just appended.
 * @param flags of that instant, which must not be a gap
 */
export function agreeHeadings(
  arm: ArmState,
  readings: ArmReadings,
  description: SetDescription,
  params: PipelineParams,
  flags: number,
): void {
  const { mounting } = arm;
  const shocked = (flags & GRID_IN_SHOCK) !== 0;
  const knocks = shocked && !arm.inShock ? 1 : 0;
  arm.inShock = shocked;
  if (mounting === null || !params.headingAgreement) return;
  const closing = readings.some((r) => (r.flags & (SAMPLE_IN_SHOCK | SAMPLE_BEFORE_SHOCK)) !== 0);
  const stepS = GRID_STEP_US * 1e-6;
  for (const [state, i, j] of [
    [arm.elbow, 0, 1],
    [arm.wrist, 1, 2],
  ] as const) {
    const above = readings[i];
    const below = readings[j];
    passTime(state, stepS, (norm(above.gyr) + norm(below.gyr)) * stepS, knocks);
    if (!closing) {
      const upper = SEGMENTS[i];
      const toJointM = description.lengthsM[upper] - description.sensorFromJointM[upper];
      jointSpecificForce(proximal, above, mounting.longAxis[i], toJointM);
      jointSpecificForce(
        distal,
        below,
        mounting.longAxis[j],
        -description.sensorFromJointM[SEGMENTS[j]],
      );
      addJointAcceleration(state, proximal[0]!, proximal[1]!, distal[0]!, distal[1]!);
      noteJointForce(arm.timeline, i, norm(proximal), norm(distal));
    }
    if (state.elapsedS >= WINDOW_S && knocks === 0) updateAgreement(state);
  }
}

/** Closes the windows just before a contact, so that the swing is read with its own headings. */
export function closeWindows(arm: ArmState): void {
  updateAgreement(arm.elbow);
  updateAgreement(arm.wrist);
}
