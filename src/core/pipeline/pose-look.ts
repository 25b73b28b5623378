import { HOLD_S, isSensorStill } from '../arm/hold-detector.ts';
import { rotate } from '../maths/quaternion.ts';
import { vector3 } from '../maths/vector.ts';
import type { ArmReadings } from './arm-sensors.ts';
import type { ArmState } from './arm-state.ts';
import type { PoseLook } from './outputs.ts';

const along = vector3();

/** Looks at the instant just read: how still each sensor is and, once its long axis is known, how steep. */
export function watchPose({ poseWatch, mounting }: ArmState, readings: ArmReadings): void {
  readings.forEach(({ gyr, acc, qEarthFromSensor }, k) => {
    poseWatch.isStill[k] = isSensorStill(gyr, acc);
    const axis = mounting?.longAxis[k];
    if (axis === undefined) poseWatch.elevationRad[k] = Number.NaN;
    else {
      rotate(along, qEarthFromSensor, axis);
      poseWatch.elevationRad[k] = Math.asin(Math.min(1, Math.max(-1, along[2]!)));
    }
  });
}

/** As the screen shows it; null unless the poses are being taken. */
export function poseLook({ zero, hold, poseWatch }: ArmState): PoseLook | null {
  if (zero.phase !== 'plumb' && zero.phase !== 'point') return null;
  const [stillU, stillF, stillI] = poseWatch.isStill;
  const [u, f, i] = poseWatch.elevationRad;
  return {
    holdShare: Math.min(1, hold.stillS / HOLD_S),
    isStill: { upperArm: stillU, forearm: stillF, implement: stillI },
    elevationRad: { upperArm: u, forearm: f, implement: i },
  };
}
