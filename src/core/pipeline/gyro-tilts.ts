import { ARM_ROW, slotOf } from '../arm/arm-timeline.ts';
import { addGyroTilt } from '../arm/gyro-tilt.ts';
import type { ArmState } from './arm-state.ts';

/** A sensor that turns slower than this hardly turns from one look to the next, rad/s. */
const SLOW_RAD_S = 2;

/** Whether any sensor turns so fast that its tilt has to be followed at every instant. */
export function turnsFast({ timeline }: ArmState): boolean {
  const { turnRateRadS, count } = timeline;
  const row = 3 * slotOf(count - 1);
  for (let i = row; i < row + 3; i++) if (turnRateRadS[i]! > SLOW_RAD_S) return true;
  return false;
}

/** Brings what the gyroscopes' errors did to the verticals up to the newest instant. */
export function followGyroTilts(arm: ArmState): void {
  const { timeline, gyroTilts } = arm;
  const newest = timeline.count - 1;
  const instants = newest - arm.gyroTiltsInstant;
  if (instants <= 0) return;
  const from = ARM_ROW * slotOf(arm.gyroTiltsInstant);
  const to = ARM_ROW * slotOf(newest);
  for (let k = 0; k < 3; k++) {
    addGyroTilt(gyroTilts[k]!, timeline.q, from + 4 * k, to + 4 * k, instants);
  }
  arm.gyroTiltsInstant = newest;
}
