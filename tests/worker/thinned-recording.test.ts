import { expect, it } from 'vitest';
import { lookAtCalibration } from '../../src/core/kit/calibration-look.ts';
import { BENCH, simulateBench } from '../../src/core/simulator/simulated-bench.ts';
import { thinned } from '../../src/worker/thinned-recording.ts';

it('leaves every fourth sample of 200 Hz for 50 Hz, all columns alike', () => {
  const { recording } = simulateBench({ ...BENCH, rests: 2 });
  const few = thinned(recording, 50);
  expect(few.timeS[1]! - few.timeS[0]!).toBeCloseTo(1 / 50, 6);
  expect(few.timeS[7]).toBe(recording.timeS[28]);
  expect(few.gyro.y[7]).toBe(recording.gyro.y[28]);
  expect(few.accel.z[7]).toBe(recording.accel.z[28]);
  expect(few.accel.x).toHaveLength(few.timeS.length);
});

it('leaves a recording whole that is no faster', () => {
  const { recording } = simulateBench({ ...BENCH, rests: 2, rateHz: 50 });
  expect(thinned(recording, 50)).toBe(recording);
  const one = { ...recording, timeS: recording.timeS.slice(0, 1) };
  expect(thinned(one, 50)).toBe(one);
});

it.each([1, 2, 3, 4, 5, 6])('shows the hand what all samples show, seed %i', (seed) => {
  const { recording } = simulateBench({ ...BENCH, seed });
  const whole = lookAtCalibration(recording);
  const few = lookAtCalibration(thinned(recording, 50));
  if (whole.step !== 'positions' || few.step !== 'positions') throw new Error('still resting');
  // a position held on the edge of the threshold may be seen by one of the two only
  expect(Math.abs(few.positions - whole.positions)).toBeLessThanOrEqual(1);
  expect(few.now).toEqual(whole.now);
});
