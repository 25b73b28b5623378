import { columnsOf, type TriadColumns } from '../calibration/bench-recording.ts';
import { RAD_PER_DEG } from '../maths/angles.ts';
import { leastSquares } from '../statistics/least-squares.ts';
import { principalAxes } from '../statistics/principal-axes.ts';
import { amplitudeFactor, type SwingPeriod, WIDEST_SWING_RAD } from './swing-period.ts';

/** The period as a sensor on the swinging implement felt it. */
export interface FeltPeriod extends SwingPeriod {
  readonly ok: true;
  /** Whole swings that were used. */
  readonly swings: number;
  /** Angle from the vertical at the first and at the last of them, rad. */
  readonly amplitudeRad: readonly [number, number];
}

/** No period yet. */
export interface NoPeriod {
  readonly ok: false;
  /** Whole swings in a row so far. */
  readonly swings: number;
  /** What is wrong, or what to do. */
  readonly reason: string;
}

/** Fewest half swings in a row. */
const FEWEST_HALVES = 12;
/** Smaller swings drown in noise and draughts. */
const NARROWEST_RAD = 1 * RAD_PER_DEG;
/** Half swings of a pendulum last alike; a push or a finger on it changes that. */
const MOST_UNLIKE = 0.05;
/** Part of all turning that goes about one axis. */
const LEAST_IN_PLANE = 0.95;
/** Half a swing lasts between these, s: from a hand's length to more than any stick. */
const HALF_SWING_S = [0.2, 2] as const;
/** A crossing counts when the rate has been beyond this part of its usual size since the last one. */
const HYSTERESIS = 0.3;

/**
 * Period of small swings from the gyroscope of a sensor on the implement, wherever and however it sits: rate about the
 * one axis it turns about, its zero crossings (the turning points), and between two of them the angle swept, twice the
 * amplitude. Turning points t_k are fitted by
 *   t_k = t_0 + (T0 / 2) sum_{j<k} f(theta_j) + (-1)^k c
 * with f the {@link amplitudeFactor} of each half swing, so that fading and wide swings are corrected one by one, and c
 * for what a gyroscope bias does to every other crossing. Used is the longest run of alike half swings.
 * @param timeS shape (n), ascending, s @param gyro rad/s, uncalibrated will do: scale errors of a few per cent change
 *   the correction alone
 * Source: compound pendulum with small damping; the damping of the period itself (zeta^2 / 2, below 1e-4 for any
 * implement on a peg) is left out.
 * Checked: tests/kit/period-from-swings.test.ts: integrated equation of motion.
 */
export function periodFromSwings(timeS: Float64Array, gyro: TriadColumns): FeltPeriod | NoPeriod {
  const { halves, inPlane } = findSwings(timeS, gyro);
  const swings = Math.floor(halves.length / 2);
  if (halves.length < FEWEST_HALVES) {
    return {
      ok: false,
      swings,
      reason: `${swings} whole swings in a row so far; ${FEWEST_HALVES / 2} are needed, 20 are good. Push it gently and let it swing freely.`,
    };
  }
  if (inPlane < LEAST_IN_PLANE) {
    return {
      ok: false,
      swings,
      reason: 'It sways or twists while it swings. Let it hang still, then push it straight.',
    };
  }
  const points = [...halves.map(({ fromS }) => fromS), halves.at(-1)!.toS];
  const phase = new Float64Array(points.length);
  for (const [k, half] of halves.entries()) {
    phase[k + 1] = phase[k]! + amplitudeFactor(half.amplitudeRad);
  }
  const ones = phase.map(() => 1);
  const alternating = phase.map((_, k) => (k % 2 === 0 ? 1 : -1));
  const fit = leastSquares([phase, ones, alternating], points);
  if ('reason' in fit) return { ok: false, swings, reason: 'The swings could not be timed.' };
  return {
    ok: true,
    periodS: 2 * fit.coefficients[0]!,
    periodSE: 2 * fit.standardErrors[0]!,
    swings,
    amplitudeRad: [halves[0]!.amplitudeRad, halves.at(-1)!.amplitudeRad],
  };
}

/** The second look leaves out what the hands did before: it would tilt the axis. */
function findSwings(timeS: Float64Array, gyro: TriadColumns) {
  const all = longestRun(halfSwings(timeS, rateInPlane(gyro).rate));
  const fromS = all[0]?.fromS ?? 0;
  const toS = all.at(-1)?.toS ?? 0;
  const start = timeS.findIndex((time) => time > fromS) - 1;
  const end = timeS.findIndex((time) => time > toS) + 1;
  if (all.length < FEWEST_HALVES || start < 0 || end <= start) return { halves: all, inPlane: 1 };
  const swung = {
    x: gyro.x.subarray(start, end),
    y: gyro.y.subarray(start, end),
    z: gyro.z.subarray(start, end),
  };
  const { rate, inPlane } = rateInPlane(swung);
  return { halves: longestRun(halfSwings(timeS.subarray(start, end), rate)), inPlane };
}

/** Rate about the axis of most turning, and which part of all turning that is. */
function rateInPlane(gyro: TriadColumns): { rate: Float64Array; inPlane: number } {
  const n = gyro.x.length;
  const centred = columnsOf(gyro).map((column) => {
    const mean = column.reduce((sum, value) => sum + value, 0) / n;
    return column.map((value) => value - mean);
  });
  const covariance = centred.flatMap((a) =>
    centred.map((b) => a.reduce((sum, value, i) => sum + value * b[i]!, 0) / n),
  );
  const { axes, variances } = principalAxes(covariance);
  const [x, y, z] = centred as [Float64Array, Float64Array, Float64Array];
  const rate = x.map((value, i) => axes[0]! * value + axes[1]! * y[i]! + axes[2]! * z[i]!);
  return { rate, inPlane: variances[0]! / (variances[0]! + variances[1]! + variances[2]!) };
}

/** From one turning point to the next. */
interface HalfSwing {
  readonly fromS: number;
  readonly toS: number;
  readonly amplitudeRad: number;
}

function halfSwings(timeS: Float64Array, rate: Float64Array): HalfSwing[] {
  const size = Math.sqrt(rate.reduce((sum, r) => sum + r * r, 0) / rate.length);
  const halves: HalfSwing[] = [];
  let lastS: number | null = null;
  let sweep = 0;
  let wasFast = false;
  for (let i = 1; i < rate.length; i++) {
    const before = rate[i - 1]!;
    const after = rate[i]!;
    const stepS = timeS[i]! - timeS[i - 1]!;
    wasFast = wasFast || Math.abs(before) > HYSTERESIS * size;
    if (!(before * after <= 0 && before !== after && wasFast)) {
      sweep += (stepS * (before + after)) / 2;
      continue;
    }
    const crossingS = timeS[i - 1]! + (stepS * before) / (before - after);
    sweep += ((crossingS - timeS[i - 1]!) * before) / 2;
    if (lastS !== null)
      halves.push({ fromS: lastS, toS: crossingS, amplitudeRad: Math.abs(sweep) / 2 });
    lastS = crossingS;
    sweep = ((timeS[i]! - crossingS) * after) / 2;
    wasFast = false;
  }
  return halves;
}

/** The longest run of half swings that are small, large enough and last alike. */
function longestRun(halves: readonly HalfSwing[]): readonly HalfSwing[] {
  let best: readonly HalfSwing[] = [];
  let run: HalfSwing[] = [];
  for (const half of halves) {
    const last = run.at(-1);
    if (!isUsable(half)) run = [];
    else if (last !== undefined && areAlike(last, half)) run.push(half);
    else run = [half];
    if (run.length > best.length) best = run;
  }
  return best;
}

function isUsable({ fromS, toS, amplitudeRad }: HalfSwing): boolean {
  const lastsS = toS - fromS;
  const isSize = amplitudeRad >= NARROWEST_RAD && amplitudeRad <= WIDEST_SWING_RAD;
  return isSize && lastsS >= HALF_SWING_S[0] && lastsS <= HALF_SWING_S[1];
}

function areAlike(a: HalfSwing, b: HalfSwing): boolean {
  const ratio = (b.toS - b.fromS) / (a.toS - a.fromS);
  return b.fromS === a.toS && Math.abs(ratio - 1) < MOST_UNLIKE;
}
