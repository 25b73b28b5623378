import { type PerSegment, SEGMENTS } from '../core/arm/segments.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import type { SessionOptions } from '../core/simulator/session-types.ts';
import { calibrateAtBench } from './bench-calibration.ts';

/** How what the pipeline is told about a set differs from the simulator's truth. Plain data. */
export interface Told {
  /** Added to the segments' lengths, and to the distances of the sensors from their joints, metres. */
  readonly lengthsOffM: PerSegment<number>;
  readonly sensorsOffM: PerSegment<number>;
  /** Each sensor was calibrated at the bench before the set. */
  readonly benchCalibrated: boolean;
}

const NOTHING: PerSegment<number> = { upperArm: 0, forearm: 0, implement: 0 };

/** The lengths are right, the sensors as they came. */
export const TOLD_TRULY: Told = {
  lengthsOffM: NOTHING,
  sensorsOffM: NOTHING,
  benchCalibrated: false,
};

/** What the pipeline is told. @param description the truth @param options of the same simulated set */
export function describeAsTold(
  description: SetDescription,
  options: SessionOptions,
  told: Told,
): SetDescription {
  return {
    ...description,
    lengthsM: sum(description.lengthsM, told.lengthsOffM),
    sensorFromJointM: sum(description.sensorFromJointM, told.sensorsOffM),
    ...(told.benchCalibrated ? { calibrations: calibrateAtBench(options) } : {}),
  };
}

function sum(a: PerSegment<number>, b: PerSegment<number>): PerSegment<number> {
  const [upperArm, forearm, implement] = SEGMENTS.map((segment) => a[segment] + b[segment]) as [
    number,
    number,
    number,
  ];
  return { upperArm, forearm, implement };
}
