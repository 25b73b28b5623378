import { expect, it } from 'vitest';
import { DEG_PER_RAD, STANDARD_GRAVITY } from '../../src/core/maths/angles.ts';
import { seededRandom } from '../../src/core/maths/random.ts';
import { decodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import { ARM_CHANNELS } from '../../src/core/simulator/arm-kinematics.ts';
import { addKeyframe, createTrack } from '../../src/core/simulator/keyframe-track.ts';
import { streamSamples } from '../../src/core/simulator/sample-stream.ts';
import { DEFAULT_ERRORS } from '../../src/core/simulator/sensor-errors.ts';
import { type PlannedMovement, planMovement } from '../../src/core/simulator/virtual-player.ts';
import { createVirtualSensor } from '../../src/core/simulator/virtual-sensor.ts';
import { overlappingAllanDeviation } from '../../src/core/statistics/allan-deviation.ts';
import { answered } from '../statistics/answers.ts';
import { sessionOptions } from './session-options.ts';

const REST_S = 600;
const RATE_HZ = 200;

/** A sensor at rest for ten minutes, every error of the defaults: gyroscope x y z, deg/s, accelerometer x y z, micro-g. */
function restingColumns(): number[][] {
  const options = sessionOptions({ swings: 0 });
  const random = seededRandom(3);
  const planned = planMovement(options, random);
  const track = createTrack(ARM_CHANNELS);
  addKeyframe(track, 0, [0.3, -0.7, 1.1, 0.2, 0.4, -0.9, 0, 0, 0, 0, 0, 1]);
  const sway = { ...planned.sway, amplitude: new Float64Array(ARM_CHANNELS) };
  const movement: PlannedMovement = { ...planned, track, sway, swings: [], endS: REST_S };
  // the nominal rate exactly, so that tau is a whole number of samples
  const errors = { ...DEFAULT_ERRORS, rateOff: 0 };
  const sensor = createVirtualSensor(1, 0.14, RATE_HZ, errors, random);
  const scales = [
    DEG_PER_RAD * sensor.info.gyroScaleRadS,
    (1e6 * sensor.info.accelScaleMS2) / STANDARD_GRAVITY,
  ];
  const columns: number[][] = [[], [], [], [], [], []];
  for (const { bytes } of streamSamples(sensor, movement, [], options, 4)) {
    const decoded = decodeStreamPacket(bytes);
    if (!decoded.ok) expect.fail(decoded.fault.message);
    decoded.packet.samples.forEach((value, i) => {
      columns[i % 6]!.push(value * scales[i % 6 < 3 ? 0 : 1]!);
    });
  }
  return columns;
}

const columns = restingColumns();

/** Mean Allan variance of three axes. */
function pooled(axes: readonly number[], tauS: number): number {
  const averaged = Math.round(tauS * RATE_HZ);
  const variances = axes.map(
    (k) => answered(overlappingAllanDeviation(columns[k]!, averaged)) ** 2,
  );
  return variances.reduce((sum, v) => sum + v, 0) / axes.length;
}

// Allan variances (NIST SP 1065, formulas from memory): white noise of one-sided density d gives d^2 / (2 tau),
// rounding to int16 is white with step^2 / 12 per sample, a random walk of K per root second gives K^2 tau / 3.
// SE of a pooled overlapping deviation: 1 / sqrt(2 edf) with edf = 3 axes x 1.5 x 600 s / tau (white noise, same
// source, large numbers): 1.4 % at 1 s, 0.4 % at 0.1 s. Tolerances are four of those.
it.each([
  { tauS: 0.1, tolerance: 0.018 },
  { tauS: 1, tolerance: 0.055 },
])('a simulated sensor at rest has the noise of its data sheet, tau $tauS s', (check) => {
  const { tauS, tolerance } = check;
  const rounding = (step: number) => step ** 2 / 12 / (RATE_HZ * tauS);
  const gyro = pooled([0, 1, 2], tauS) - rounding(2000 / 32767) - (0.002 ** 2 * tauS) / 3;
  const accel = pooled([3, 4, 5], tauS) - rounding(16e6 / 32767);
  // 0.007 deg/s/sqrt(Hz) and 150 ug/sqrt(Hz), design.md section 12
  expect(Math.abs(Math.sqrt(2 * tauS * gyro) / 0.007 - 1)).toBeLessThan(tolerance);
  expect(Math.abs(Math.sqrt(2 * tauS * accel) / 150 - 1)).toBeLessThan(tolerance);
});
