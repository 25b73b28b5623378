import { describe, expect, it } from 'vitest';
import type { BenchRecording, TriadColumns } from '../../src/core/calibration/bench-recording.ts';
import { calibrateSensor } from '../../src/core/calibration/calibrate-sensor.ts';
import { RAD_PER_DEG, STANDARD_GRAVITY } from '../../src/core/maths/angles.ts';
import { type Vector3, vector3 } from '../../src/core/maths/vector.ts';
import {
  BENCH,
  type BenchOptions,
  simulateBench,
} from '../../src/core/simulator/simulated-bench.ts';

/** A minute or more of samples is simulated in each test; the machine may be shared. */
const TIMEOUT_MS = 60_000;

/** Code and message of the refusal. */
function fault(recording: BenchRecording): string {
  const result = calibrateSensor(recording);
  if (result.ok) throw new Error('the recording was accepted');
  return `${result.fault.code}: ${result.fault.message}`;
}

function simulated(options: Partial<BenchOptions>): BenchRecording {
  return simulateBench({ ...BENCH, ...options }).recording;
}

function change(
  triad: TriadColumns,
  by: (value: number, sample: number, axis: 'x' | 'y' | 'z') => number,
): TriadColumns {
  return {
    x: triad.x.map((v, i) => by(v, i, 'x')),
    y: triad.y.map((v, i) => by(v, i, 'y')),
    z: triad.z.map((v, i) => by(v, i, 'z')),
  };
}

const QUARTER = Math.PI / 2;
const SIX_FACES: Vector3[] = [
  vector3(1, 0, 0),
  vector3(0, 1, 0),
  vector3(0, 0, 1),
  vector3(-1, 0, 0),
  vector3(0, -1, 0),
  vector3(0, 0, -1),
];

describe('calibrateSensor refuses', { timeout: TIMEOUT_MS }, () => {
  const good = simulated({ seed: 1 });

  it.each([
    ['taken up at once', { initialRestS: 0 }, /^initial-rest-too-short: .* 0 s; 20 s/],
    ['a first rest of 12 s', { initialRestS: 12 }, /^initial-rest-too-short: .* 12 s; 20 s/],
    ['nine rests', { rests: 9 }, /^too-few-rests: 9 rests .* at least 12/],
    ['turning without pause', { restS: [0, 0] as const }, /^rests-too-short: .* Rest 2 to 4 s/],
    [
      'quarter turns about two axes',
      { steps: [vector3(QUARTER, 0, 0), vector3(0, QUARTER, 0)] },
      /^faces-missing: The rests show \d orientations; 12 are needed/,
    ],
    ['six faces only', { ups: SIX_FACES }, /^faces-missing: .* next with [+-]x and [+-]y and/],
    [
      'small turns about one diagonal',
      { steps: [vector3(0.5, 0, 0), vector3(0, 0.5, 0), vector3(0, 0, 0.5)], rests: 20 },
      /^faces-missing: The rests leave part of the sphere out/,
    ],
    [
      'rests of hardly a second',
      { restS: [0.8, 1.1] as const },
      /^too-uncertain: .* leaning on something/,
    ],
  ])('%s', (_, options, expected) => {
    expect(fault(simulated(options))).toMatch(expected);
  });

  it('a knock during the first rest, and says when', () => {
    const accel = change(good.accel, (v, i) => v + (i >= 2400 && i < 2420 ? 3 : 0));
    expect(fault({ ...good, accel })).toMatch(/^moved-in-initial-rest: .* moved 12 s after/);
  });

  it('a table that tilts during the first rest', () => {
    // by 0.6 deg in 30 s
    const accel = change(good.accel, (v, i) => v + 0.1 * Math.min(1, i / 6000));
    expect(fault({ ...good, accel })).toMatch(/^moved-in-initial-rest: The sensor tilted/);
  });

  it('a gyroscope that still warms up during the first rest', () => {
    // by 0.9 deg/s in 30 s
    const gyro = change(good.gyro, (v, i) => v + 0.9 * RAD_PER_DEG * Math.min(1, i / 6000));
    expect(fault({ ...good, gyro })).toMatch(/^moved-in-initial-rest: The gyroscope drifted/);
  });

  it('turns beyond the range of the gyroscope', () => {
    const range = 125 * RAD_PER_DEG;
    const gyro = change(good.gyro, (v) => Math.max(-range, Math.min(range, v)));
    expect(fault({ ...good, gyro, gyroRangeRadS: range })).toMatch(/^clipped: The gyroscope/);
  });

  it('an accelerometer stuck at the end of its range', () => {
    const range = STANDARD_GRAVITY;
    const accel = change(good.accel, (v) => Math.max(-range, Math.min(range, v)));
    expect(fault({ ...good, accel, accelRangeMS2: range })).toMatch(/^clipped: The accelerometer/);
  });

  it.each([
    ['accelerometer', 'accel'],
    ['gyroscope', 'gyro'],
  ] as const)('the %s read with half its range', (name, triad) => {
    const halved = change(good[triad], (v) => v / 2);
    expect(fault({ ...good, [triad]: halved })).toMatch(
      new RegExp(`^implausible: The ${name} .* range setting`),
    );
  });

  it('a recording with samples lost in nearly every turn', () => {
    const { timeS, gyro, accel } = good;
    const kept = (_: number, i: number) => i % 200 >= 10;
    const thin = ({ x, y, z }: TriadColumns) => ({
      x: x.filter(kept),
      y: y.filter(kept),
      z: z.filter(kept),
    });
    const lossy = { ...good, timeS: timeS.filter(kept), gyro: thin(gyro), accel: thin(accel) };
    expect(fault(lossy)).toMatch(/^too-few-turns: Only \d turns/);
  });

  it('a gyroscope axis that no turn shows', () => {
    // a dead axis stays where its bias is
    const gyro = change(good.gyro, (v, i, axis) => (axis === 'z' ? 1e-3 + 1e-4 * (i % 2) : v));
    expect(fault({ ...good, gyro })).toMatch(/^turns-missing: .* axis/);
  });

  it('columns that do not belong together', () => {
    const short = { ...good.gyro, y: good.gyro.y.subarray(1) };
    expect(() => calibrateSensor({ ...good, gyro: short })).toThrow(/equally long/);
    const lost = change(good.accel, (v, i) => (i === 17 ? Number.NaN : v));
    expect(() => calibrateSensor({ ...good, accel: lost })).toThrow(/sample 17 is no number/);
    const timeS = good.timeS.map((t, i) => (i === 40 ? t - 1 : t));
    expect(() => calibrateSensor({ ...good, timeS })).toThrow(/ascend at sample 40/);
  });
});
