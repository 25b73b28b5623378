import { describe, expect, it } from 'vitest';
import type { BenchRecording } from '../../src/core/calibration/bench-recording.ts';
import { calibrateSensor } from '../../src/core/calibration/calibrate-sensor.ts';
import { calibrationGain } from '../../src/core/kit/calibration-gain.ts';
import { lookAtCalibration } from '../../src/core/kit/calibration-look.ts';
import { SENSOR_SIDES, sideUp } from '../../src/core/kit/sensor-sides.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import { BENCH, simulateBench } from '../../src/core/simulator/simulated-bench.ts';

/** The beginning of a recording. */
function until(recording: BenchRecording, endS: number): BenchRecording {
  const n = recording.timeS.findIndex((time) => time > endS);
  const cut = ({ x, y, z }: BenchRecording['gyro']) => ({
    x: x.subarray(0, n),
    y: y.subarray(0, n),
    z: z.subarray(0, n),
  });
  const { timeS, gyro, accel } = recording;
  return { ...recording, timeS: timeS.subarray(0, n), gyro: cut(gyro), accel: cut(accel) };
}

describe('sides of a sensor', () => {
  it('are 6 faces, 12 edges and 8 corners', () => {
    const kinds = SENSOR_SIDES.map(({ kind }) => kind);
    expect(
      ['face', 'edge', 'corner'].map((k) => kinds.filter((kind) => kind === k).length),
    ).toEqual([6, 12, 8]);
    expect(sideUp(vector3(0.3, -9.8, 0.5)).name).toBe('-y');
    expect(sideUp(vector3(7, 0.5, -6.6))).toMatchObject({ name: '+x and -z', kind: 'edge' });
    expect(sideUp(vector3(5, 6, 5.5)).kind).toBe('corner');
  });
});

describe('lookAtCalibration', () => {
  const { recording } = simulateBench(BENCH);

  it('counts the first rest up, then asks for positions', () => {
    const early = lookAtCalibration(until(recording, 8));
    expect(early).toMatchObject({ step: 'first-rest', neededS: 20, problem: null });
    expect(early.step === 'first-rest' && early.stillS).toBeGreaterThan(7);
    expect(lookAtCalibration(until(recording, 25))).toMatchObject({ step: 'positions' });
  });

  it('begins to count again when it was taken up too soon', () => {
    const hasty = simulateBench({ ...BENCH, initialRestS: 8 }).recording;
    const look = lookAtCalibration(until(hasty, 10));
    expect(look.step === 'first-rest' && look.stillS).toBeLessThan(1);
  });

  it.each([1, 2, 3])('finds the positions of the plan as they are held, seed %i', (seed) => {
    // 26 sides shuffled and four of them again: all are held for 2 to 4 s
    const look = lookAtCalibration(simulateBench({ ...BENCH, seed }).recording);
    if (look.step !== 'positions') throw new Error('still resting');
    expect(look.positions).toBeGreaterThanOrEqual(24);
    expect(look.sidesUsed.length).toBeGreaterThanOrEqual(22);
    const twelve = lookAtCalibration(until(simulateBench({ ...BENCH, seed }).recording, 60));
    if (twelve.step !== 'positions') throw new Error('still resting');
    // some 4.5 s for each turn and rest
    expect(twelve.positions).toBeGreaterThan(4);
    expect(twelve.positions).toBeLessThan(12);
    expect(twelve.sidesUsed).not.toContain(twelve.next);
  });

  it('says what is up now', () => {
    const faces = [vector3(0, 0, 1), vector3(1, 0, 0), vector3(0, -1, 0)];
    const { recording: three } = simulateBench({ ...BENCH, rests: 3, ups: faces, tremor: 0 });
    const look = lookAtCalibration(three);
    expect(look.step === 'positions' && look.now).toEqual({ side: '-y', isHeld: true });
  });
});

describe('calibrationGain', () => {
  it('shows what was wrong before, and that the rest is noise', () => {
    const { recording, truth } = simulateBench({ ...BENCH, tremor: 0, seed: 4 });
    const result = calibrateSensor(recording);
    if (!result.ok) throw new Error(result.fault.message);
    const gain = calibrationGain(recording, result.calibration)!;
    // biases of the part, m/s^2: what gravity is off by is of their size
    const size = Math.hypot(...truth.accelBias);
    expect(gain.gravity.before).toBeGreaterThan(0.3 * size);
    expect(gain.gravity.before).toBeLessThan(2 * size);
    expect(gain.gravity.after).toBeLessThan(gain.gravity.before / 20);
    expect(gain.turn.after).toBeLessThan(gain.turn.before / 4);
  });

  it('finds nothing to gain with a perfect part', () => {
    const { recording } = simulateBench({ ...BENCH, errors: 0, tremor: 0 });
    const result = calibrateSensor(recording);
    if (!result.ok) throw new Error(result.fault.message);
    const { gravity, turn } = calibrationGain(recording, result.calibration)!;
    expect(gravity.before).toBeLessThan(1e-6);
    expect(turn.before).toBeLessThan(1e-3);
  });
});
