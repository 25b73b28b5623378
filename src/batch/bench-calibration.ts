import { SEGMENTS } from '../core/arm/segments.ts';
import { calibrateSensor } from '../core/calibration/calibrate-sensor.ts';
import { seededRandom } from '../core/maths/random.ts';
import type { CalibratedSensor } from '../core/recording/set-description.ts';
import { SENSOR_FROM_JOINT_M } from '../core/simulator/kit.ts';
import type { SessionOptions } from '../core/simulator/session-types.ts';
import { BENCH, simulateBench } from '../core/simulator/simulated-bench.ts';
import { planMovement } from '../core/simulator/virtual-player.ts';
import { createVirtualSensor } from '../core/simulator/virtual-sensor.ts';

/**
 * The three sensors of a simulated set, calibrated at a simulated bench before it: 30 rests in a trembling
 * hand, as tests/calibration has them. The start-up bias is that of the set, since a bench recording just before
 * it sees the same.
 * @throws Error when a recording gives no calibration
 */
export function calibrateAtBench(options: SessionOptions): readonly CalibratedSensor[] {
  // Drawn as the session draws them: the movement first, then the sensors, from one stream of numbers.
  const random = seededRandom(options.seed);
  planMovement(options, random);
  const { nominalRateHz, errors } = options;
  return SEGMENTS.map((segment, k) => {
    const fromJointM = SENSOR_FROM_JOINT_M[segment];
    const sensor = createVirtualSensor(k, fromJointM, nominalRateHz, errors, random);
    const part = {
      gyroMatrix: [...sensor.gyroMatrix],
      accelMatrix: [...sensor.accelMatrix],
      gyroBias: [...sensor.gyroBiasRadS],
      accelBias: [...sensor.accelBiasMS2],
    };
    const { recording } = simulateBench({ ...BENCH, seed: options.seed * 4 + k, part });
    const result = calibrateSensor(recording);
    if (!result.ok) throw new Error(`bench of the ${segment}: ${result.fault.message}`);
    return { serial: sensor.info.serial, calibration: result.calibration };
  });
}
