import { describe, expect, it } from 'vitest';
import { stillSpans, varianceMagnitude } from '../../src/core/calibration/stillness.ts';
import { expectClose } from '../maths/close.ts';

const RATE_HZ = 100;
const timeS = Float64Array.from({ length: 600 }, (_, i) => i / RATE_HZ);
const column = (value: (i: number) => number) => Float64Array.from(timeS, (_, i) => value(i));
const constant = column(() => 9.8);

function recordingOf(times: Float64Array) {
  const triad = { x: times, y: times, z: times };
  return { timeS: times, gyro: triad, accel: triad, gyroRangeRadS: 1, accelRangeMS2: 1 };
}

describe('varianceMagnitude', () => {
  it('of numbers that alternate by +-a around a constant is a^2, over three axes its norm', () => {
    const alternating = column((i) => 9.8 + (i % 2 === 0 ? 0.1 : -0.1));
    const one = varianceMagnitude({ x: alternating, y: constant, z: constant }, timeS);
    // 51 samples in half a second: one more of one sign leaves a mean of a / 51
    const variance = 0.01 * (1 - 1 / 51 ** 2);
    expectClose(one.subarray(30, 570), one.subarray(30, 570).fill(variance), 1e-12);
    const three = varianceMagnitude({ x: alternating, y: alternating, z: alternating }, timeS);
    expect(three[300]).toBeCloseTo(Math.sqrt(3) * variance, 12);
  });

  it('is 0 for a constant and infinite where the window leaves the recording', () => {
    const magnitude = varianceMagnitude({ x: constant, y: constant, z: constant }, timeS);
    expect(magnitude[300]).toBeCloseTo(0, 15);
    expect([magnitude[0], magnitude[599]]).toEqual([Infinity, Infinity]);
  });
});

describe('stillSpans', () => {
  it('gives the runs below the threshold, cut where samples are missing', () => {
    const times = Float64Array.of(0, 0.1, 0.2, 0.3, 0.4, 1.4, 1.5, 1.6);
    const variance = Float64Array.of(9, 1, 1, 9, 1, 1, 1, 1);
    expect(stillSpans(recordingOf(times), variance, 2)).toEqual([
      { start: 1, end: 3 },
      { start: 4, end: 5 },
      { start: 5, end: 8 },
    ]);
  });
});
