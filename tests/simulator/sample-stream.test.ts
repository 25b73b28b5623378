import { describe, expect, it } from 'vitest';
import { DEG_PER_RAD } from '../../src/core/maths/angles.ts';
import { seededRandom } from '../../src/core/maths/random.ts';
import { decodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import { streamSamples } from '../../src/core/simulator/sample-stream.ts';
import { NO_ERRORS, type SensorErrors } from '../../src/core/simulator/sensor-errors.ts';
import { planMovement } from '../../src/core/simulator/virtual-player.ts';
import { createVirtualSensor } from '../../src/core/simulator/virtual-sensor.ts';
import { sessionOptions } from './session-options.ts';

/** Samples of a forearm sensor on a player who hangs motionless for four seconds: columns of six, SI units. */
function restingSamples(errors: SensorErrors): number[][] {
  const options = sessionOptions({ swings: 0, errors });
  const random = seededRandom(8);
  const planned = planMovement(options, random);
  const movement = {
    ...planned,
    sway: { ...planned.sway, amplitude: new Float64Array(12) },
    endS: 4,
  };
  const sensor = createVirtualSensor(1, 0.14, 200, errors, random);
  const columns: number[][] = [[], [], [], [], [], []];
  for (const { bytes } of streamSamples(sensor, movement, [], options, 99)) {
    const decoded = decodeStreamPacket(bytes);
    if (!decoded.ok) expect.fail(decoded.fault.message);
    decoded.packet.samples.forEach((value, i) => {
      const scale = i % 6 < 3 ? sensor.info.gyroScaleRadS : sensor.info.accelScaleMS2;
      columns[i % 6]!.push(value * scale);
    });
  }
  return columns;
}

const meanOf = (x: readonly number[]) => x.reduce((a, b) => a + b, 0) / x.length;
const sdOf = (x: readonly number[]) => {
  const mean = meanOf(x);
  return Math.sqrt(x.reduce((a, b) => a + (b - mean) ** 2, 0) / (x.length - 1));
};

describe('streamSamples', () => {
  it('adds white noise of the density asked for', () => {
    // Density times sqrt(rate/2): 0.05 deg/s x 10 = 0.5 deg/s; 2000 ug x 10 = 0.196 m/s^2. Rounding to int16 adds
    // step/sqrt 12 (0.035 deg/s, 0.0055 m/s^2): below 0.3 %. SD of 800 samples: SE 2.5 %, four of those.
    const columns = restingSamples({ ...NO_ERRORS, gyroNoiseDegS: 0.05, accelNoiseMicroG: 2000 });
    for (let i = 0; i < 6; i++) {
      const sd = sdOf(columns[i]!);
      const expected = i < 3 ? 0.5 / DEG_PER_RAD : 2000e-6 * 9.80665 * 10;
      expect(columns[i]!.length).toBeGreaterThan(780);
      expect(Math.abs(sd / expected - 1)).toBeLessThan(0.1);
    }
  });

  it('adds a constant bias within the limits asked for', () => {
    const columns = restingSamples({ ...NO_ERRORS, gyroBiasDegS: 1 });
    const biases = columns.slice(0, 3).map((x) => meanOf(x) * DEG_PER_RAD);
    expect(Math.max(...biases.map(Math.abs))).toBeLessThanOrEqual(1 + 0.07); // one int16 step at 4000 deg/s is 0.12
    expect(Math.max(...biases.map(Math.abs))).toBeGreaterThan(0.15);
    for (const x of columns.slice(0, 3)) expect(sdOf(x)).toBeLessThan(1e-12);
  });

  it('measures g and no turning without errors, to the rounding of int16', () => {
    const columns = restingSamples(NO_ERRORS);
    const acc = columns.slice(3).map(meanOf);
    // 64 g over 32767: half a step is 0.0096 m/s^2 on each axis
    expect(Math.abs(Math.hypot(...acc) - 9.80665)).toBeLessThan(0.017);
    for (const x of columns.slice(0, 3)) expect(Math.max(...x.map(Math.abs))).toBe(0);
  });
});
