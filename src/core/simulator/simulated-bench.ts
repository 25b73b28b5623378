import type { BenchRecording } from '../calibration/bench-recording.ts';
import { RAD_PER_DEG, STANDARD_GRAVITY } from '../maths/angles.ts';
import {
  conjugate,
  fromAxes,
  fromRotationVector,
  multiply,
  type Quaternion,
  quaternion,
  rotateInverse,
  toRotationVector,
} from '../maths/quaternion.ts';
import { type Random, seededRandom } from '../maths/random.ts';
import { cross, normalise, type Vector3, vector3 } from '../maths/vector.ts';

/** One sensor turned by hand at a bench. Defaults: an ordinary part and a trembling hand. */
export interface BenchOptions {
  readonly seed: number;
  readonly initialRestS: number;
  readonly rests: number;
  /** Each rest lasts between these, seconds. */
  readonly restS: readonly [number, number];
  /** Usual rate of a turn, rad/s; its peak is nearly twice that. */
  readonly turnRateRadS: number;
  readonly rateHz: number;
  /** True gravity, m/s^2. */
  readonly gravityMS2: number;
  /** 1 for the hand's tremor, 0 for a sensor laid down each time. */
  readonly tremor: number;
  /** Directions that point up in turn, sensor frame; null for all faces, edges and corners, shuffled. */
  readonly ups: readonly Vector3[] | null;
  /** Turned about each of these in turn instead of to `ups`: axis times angle, sensor frame. */
  readonly steps: readonly Vector3[] | null;
  /** Number of a rest with a constant extra acceleration, and that, m/s^2; null for none. */
  readonly badRest: { readonly rest: number; readonly accelMS2: Vector3 } | null;
  /** How far the gyroscope's bias moves, on every axis, while the part warms in the hand, deg/s. */
  readonly warmUpDegS: number;
  /** 0 for a perfect, noiseless and unquantised part. */
  readonly errors: number;
  /** A certain part; null to draw one. */
  readonly part: BenchTruth | null;
}

export const BENCH: BenchOptions = {
  seed: 1,
  initialRestS: 30,
  rests: 30,
  restS: [2, 4],
  turnRateRadS: 1.5,
  rateHz: 200,
  gravityMS2: STANDARD_GRAVITY,
  tremor: 1,
  ups: null,
  steps: null,
  badRest: null,
  warmUpDegS: 0,
  errors: 1,
  part: null,
};

/** raw = matrix ideal + bias, matrices row-major (3, 3). */
export interface BenchTruth {
  readonly gyroMatrix: readonly number[];
  readonly accelMatrix: readonly number[];
  readonly gyroBias: readonly number[];
  readonly accelBias: readonly number[];
}

const GYRO_NOISE = 0.007 * RAD_PER_DEG;
/** Time constant of warming, s. */
const WARM_UP_S = 40;
const GYRO_WALK = 0.002 * RAD_PER_DEG;
const ACCEL_NOISE = 150e-6 * STANDARD_GRAVITY;
const GYRO_RANGE = 2000 * RAD_PER_DEG;
const ACCEL_RANGE = 16 * STANDARD_GRAVITY;
/** Half the step over which the closed-form orientation is differenced, s. */
const HALF_STEP_S = 1e-4;

/** Records one sensor: truth first, then its errors, then int16. */
export function simulateBench(options: BenchOptions): {
  readonly recording: BenchRecording;
  readonly truth: BenchTruth;
} {
  const random = seededRandom(options.seed);
  const truth = options.part ?? drawTruth(random, options.errors);
  const motion = createMotion(options, random);
  const n = Math.floor(motion.endS * options.rateHz);
  const column = () => new Float64Array(n);
  const recording = {
    timeS: Float64Array.from({ length: n }, (_, i) => i / options.rateHz),
    gyro: { x: column(), y: column(), z: column() },
    accel: { x: column(), y: column(), z: column() },
    gyroRangeRadS: GYRO_RANGE,
    accelRangeMS2: ACCEL_RANGE,
  };
  const walk = vector3();
  const perRoot = Math.sqrt(options.rateHz / 2) * options.errors;
  for (let i = 0; i < n; i++) {
    const ideal = motion.at(recording.timeS[i]!);
    const gyro = affine(truth.gyroMatrix, ideal.rate, truth.gyroBias);
    const accel = affine(truth.accelMatrix, ideal.force, truth.accelBias);
    const inHandS = Math.max(0, recording.timeS[i]! - options.initialRestS);
    const warmth = options.warmUpDegS * RAD_PER_DEG * (1 - Math.exp(-inHandS / WARM_UP_S));
    (['x', 'y', 'z'] as const).forEach((axis, k) => {
      walk[k] = walk[k]! + random.normal((GYRO_WALK * options.errors) / Math.sqrt(options.rateHz));
      const noisyGyro = gyro[k]! + walk[k]! + warmth + random.normal(GYRO_NOISE * perRoot);
      const noisyAccel = accel[k]! + random.normal(ACCEL_NOISE * perRoot);
      recording.gyro[axis][i] = options.errors > 0 ? quantise(noisyGyro, GYRO_RANGE) : noisyGyro;
      recording.accel[axis][i] =
        options.errors > 0 ? quantise(noisyAccel, ACCEL_RANGE) : noisyAccel;
    });
  }
  return { recording, truth };
}

/** Scale up to 1 %, each axis tilted up to 1 deg towards either other, 1 deg/s, 30 mg: all uniform. */
function drawTruth(random: Random, errors: number): BenchTruth {
  const matrix = () =>
    Array.from({ length: 9 }, (_, k) =>
      k % 4 === 0
        ? 1 + errors * random.uniform(-0.01, 0.01)
        : errors * random.uniform(-RAD_PER_DEG, RAD_PER_DEG),
    );
  const bias = (most: number) =>
    Array.from({ length: 3 }, () => errors * random.uniform(-most, most));
  return {
    gyroMatrix: matrix(),
    accelMatrix: matrix(),
    gyroBias: bias(RAD_PER_DEG),
    accelBias: bias(0.03 * STANDARD_GRAVITY),
  };
}

interface Motion {
  readonly endS: number;
  /** Ideal readings; to be called with ascending times. */
  at(timeS: number): { readonly rate: Vector3; readonly force: Vector3 };
}

/** From one rest to the next: turn, then rest. */
interface Leg {
  readonly startS: number;
  readonly turnS: number;
  readonly endS: number;
  readonly qEarthFromStart: Quaternion;
  /** Rotation vector of the turn, and how far the hand strays from the straight turn on the way. */
  readonly turn: Vector3;
  readonly stray: Vector3;
  readonly push: Vector3;
  readonly held: Vector3;
}

function createMotion(options: BenchOptions, random: Random): Motion {
  const legs = createLegs(options, random);
  const shake = createShake(options, random);
  let leg = legs[0]!;
  const orientation = (timeS: number) => {
    const s = Math.min(1, Math.max(0, (timeS - leg.startS) / leg.turnS));
    // minimum-jerk progress, Flash & Hogan 1985
    const progress = s ** 3 * (10 - 15 * s + 6 * s * s);
    const q = turned(leg.qEarthFromStart, leg.turn, progress);
    return turned(turned(q, leg.stray, 16 * s * s * (1 - s) ** 2), shake.angle(timeS), 1);
  };
  return {
    endS: legs.at(-1)!.endS,
    at(timeS) {
      if (timeS >= leg.endS) leg = legs[legs.indexOf(leg) + 1]!;
      const before = orientation(timeS - HALF_STEP_S);
      const after = orientation(timeS + HALF_STEP_S);
      const delta = multiply(quaternion(), conjugate(quaternion(), before), after);
      const step = toRotationVector(vector3(), delta);
      const s = Math.min(1, (timeS - leg.startS) / leg.turnS);
      const pushed = Math.sin(2 * Math.PI * s);
      const force = shake.accel(timeS);
      force[2] = force[2]! + options.gravityMS2;
      for (let k = 0; k < 3; k++) {
        force[k] = force[k]! + leg.push[k]! * pushed + (s >= 1 ? leg.held[k]! : 0);
      }
      rotateInverse(force, turned(before, step, 0.5), force);
      return { rate: step.map((r) => r / (2 * HALF_STEP_S)), force };
    },
  };
}

function createLegs(options: BenchOptions, random: Random): Leg[] {
  const ups = options.ups ?? shuffledFaces(options.rests, random);
  const still = vector3();
  const start = uprightAt(ups[0]!, random);
  const legs: Leg[] = [
    {
      startS: -1,
      turnS: 1,
      endS: options.initialRestS,
      qEarthFromStart: start,
      turn: still,
      stray: still,
      push: still,
      held: still,
    },
  ];
  let q = start;
  for (let k = 1; k < options.rests; k++) {
    const startS = legs.at(-1)!.endS;
    const turn =
      options.steps?.[k % options.steps.length] ?? turnTo(q, ups[k % ups.length]!, random);
    const angle = Math.hypot(...turn);
    const turnS = Math.max(0.5, (angle / options.turnRateRadS) * random.uniform(0.8, 1.2));
    const endS = startS + turnS + random.uniform(...options.restS);
    const small = (size: number) => vector3().map(() => size * options.tremor * random.normal(1));
    const held = options.badRest?.rest === k ? options.badRest.accelMS2 : still;
    const stray = small(0.15);
    legs.push({ startS, turnS, endS, qEarthFromStart: q, turn, stray, push: small(1), held });
    q = turned(q, turn, 1);
  }
  return legs;
}

/** Rotation vector from orientation q to one with `up` pointing up and any heading. */
function turnTo(q: Quaternion, up: Vector3, random: Random): Vector3 {
  const back = conjugate(quaternion(), q);
  return toRotationVector(vector3(), multiply(back, back, uprightAt(up, random)));
}

/** An orientation in which the sensor's direction `up`, within some 10 deg, points up; any heading. */
function uprightAt(up: Vector3, random: Random): Quaternion {
  const tilted = up.map((u) => u + random.normal(0.1));
  const z = normalise(tilted, tilted);
  const x = cross(vector3(), z, vector3(random.normal(1), random.normal(1), random.normal(1)));
  normalise(x, x);
  return conjugate(quaternion(), fromAxes(quaternion(), x, cross(vector3(), z, x), z));
}

function shuffledFaces(count: number, random: Random): Vector3[] {
  const steps = [-1, 0, 1];
  const cube = steps.flatMap((x) => steps.flatMap((y) => steps.map((z) => vector3(x, y, z))));
  const faces = cube.filter((d) => d.some((e) => e !== 0)).map((d) => normalise(d, d));
  const order = faces.map((face) => ({ face, key: random.uniform(0, 1) }));
  order.sort((a, b) => a.key - b.key);
  return Array.from({ length: count }, (_, k) => order[k % order.length]!.face);
}

/**
 * A hand: sway below 1 Hz and physiological tremor of 8 to 11 Hz, in angle and in acceleration; nothing on
 * the table.
 */
function createShake(options: BenchOptions, random: Random) {
  const waves = (fromHz: number, toHz: number, size: number) =>
    Array.from({ length: 6 }, (_, k) => ({
      axis: k % 3,
      radS: 2 * Math.PI * random.uniform(fromHz, toHz),
      phase: random.uniform(0, 2 * Math.PI),
      size: size * options.tremor * random.uniform(0.5, 1),
    }));
  const angles = [...waves(0.2, 0.8, 0.4 * RAD_PER_DEG), ...waves(8, 11, 0.05 * RAD_PER_DEG)];
  const accels = [...waves(0.3, 1, 0.02), ...waves(8, 11, 0.05)];
  const sum = (parts: ReturnType<typeof waves>, timeS: number) => {
    const out = vector3();
    // taken up from the table in half a second
    const u = Math.min(1, Math.max(0, (timeS - options.initialRestS) / 0.5));
    const inHand = u * u * (3 - 2 * u);
    for (const { axis, radS, phase, size } of parts) {
      out[axis] = out[axis]! + inHand * size * Math.sin(radS * timeS + phase);
    }
    return out;
  };
  return {
    angle: (timeS: number) => sum(angles, timeS),
    accel: (timeS: number) => sum(accels, timeS),
  };
}

function turned(q: Quaternion, by: Vector3, part: number): Quaternion {
  const step = fromRotationVector(quaternion(), part * by[0]!, part * by[1]!, part * by[2]!);
  return multiply(step, q, step);
}

function affine(matrix: readonly number[], v: Vector3, bias: readonly number[]): Vector3 {
  return vector3().map(
    (_, i) =>
      matrix[3 * i]! * v[0]! + matrix[3 * i + 1]! * v[1]! + matrix[3 * i + 2]! * v[2]! + bias[i]!,
  );
}

function quantise(value: number, range: number): number {
  const lsb = range / 32768;
  return lsb * Math.min(32767, Math.max(-32768, Math.round(value / lsb)));
}
