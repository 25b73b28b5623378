import { STANDARD_GRAVITY } from '../maths/angles.ts';
import type { SwingPeriod } from './swing-period.ts';

/** A length or mass as read off, with its standard error in the same unit. */
export interface Reading {
  readonly value: number;
  readonly standardError: number;
}

/** An implement that swung as a pendulum; lengths in metres from the butt end. */
export interface PendulumReadings {
  /** As it hung, with whatever is clipped on, kg. */
  readonly massKg: Reading;
  /** Where it balances on an edge, as it hung. */
  readonly balancePointM: Reading;
  /** The peg, or the fingers, it hung from. */
  readonly pivotM: Reading;
  readonly totalLengthM: number;
  /** The axis that the moment of inertia is wanted about; agreed, not measured. */
  readonly axisM: number;
  readonly period: SwingPeriod;
}

/** Moment of inertia about the axis, kg m^2, with its standard error and 95 % interval. */
export interface PendulumInertia {
  readonly ok: true;
  readonly inertiaKgM2: number;
  readonly standardError: number;
  readonly interval: readonly [number, number];
  /** About the parallel axis through the balance point. */
  readonly aboutBalanceKgM2: number;
  /** Of the variance of `inertiaKgM2`: what to measure better. Fractions that sum to 1. */
  readonly shares: Readonly<Record<'mass' | 'balance' | 'pivot' | 'period' | 'gravity', number>>;
}

/** Why there is no moment of inertia, and what to do. */
export interface NoInertia {
  readonly ok: false;
  readonly reason: string;
}

/** Gravity on the ground is 9.780 to 9.832 m/s^2, known no better here: half of that over root 3. */
const GRAVITY_SE = 0.015;
/** Two-sided 95 % of the normal distribution. */
const Z95 = 1.96;
/** Balance point and pivot closer than this: it hardly swings, and a millimetre decides, m. */
const LEAST_DISTANCE_M = 0.03;
/** Beyond this part of the value the number says little. */
const MOST_RELATIVE_SE = 0.2;

/**
 * Moment of inertia of an implement from the period of its small swings about a pivot:
 *   I_pivot = m g d T^2 / (4 pi^2),  d = |balance - pivot|
 *   I_axis = I_pivot - m d^2 + m a^2,  a = |balance - axis|
 * Swing axis and wanted axis are parallel: an implement with a face swings face first. Standard error to first order,
 * readings independent; local gravity enters with its range over the Earth.
 * Refused is what no body of that length and balance point can have: I_balance must lie between 0 and
 * m b (L - b), all mass at the two ends, within the error.
 * @returns kg m^2, or why not in words
 * Source: compound pendulum and parallel-axis theorem (any textbook of mechanics; for rackets Brody 1985, The Physics
 * Teacher 23, 213, from memory); error: JCGM 100:2008, 5.1.2; bound: Bhatia & Davis 2000, Am. Math. Monthly 107, 353.
 * Checked: tests/kit/pendulum-inertia.test.ts: uniform rod, textbook stick, simulated pendulum.
 */
export function pendulumInertia(readings: PendulumReadings): PendulumInertia | NoInertia {
  const impossible = checkReadings(readings);
  if (impossible !== null) return refuse(impossible);
  const { massKg, balancePointM, pivotM, axisM, period } = readings;
  const m = massKg.value;
  const side = Math.sign(balancePointM.value - pivotM.value);
  const d = Math.abs(balancePointM.value - pivotM.value);
  const a = balancePointM.value - axisM;
  const perGravity = (period.periodS / (2 * Math.PI)) ** 2;
  const lengthM = STANDARD_GRAVITY * perGravity;
  const perMass = lengthM * d - d * d;
  const byDistance = lengthM - 2 * d;
  const variances = {
    mass: ((perMass + a * a) * massKg.standardError) ** 2,
    balance: (m * (side * byDistance + 2 * a) * balancePointM.standardError) ** 2,
    pivot: (m * byDistance * pivotM.standardError) ** 2,
    period: ((2 * m * lengthM * d * period.periodSE) / period.periodS) ** 2,
    gravity: (m * d * perGravity * GRAVITY_SE) ** 2,
  };
  const variance = Object.values(variances).reduce((sum, part) => sum + part, 0);
  const standardError = Math.sqrt(variance);
  const inertiaKgM2 = m * (perMass + a * a);
  const untrue = checkGyration(readings, m * perMass, standardError);
  if (untrue !== null) return refuse(untrue);
  if (standardError > MOST_RELATIVE_SE * inertiaKgM2) {
    return refuse(
      `This is too uncertain to be kept (± ${Math.round((100 * Z95 * standardError) / inertiaKgM2)} %). Count more swings, or hang it farther from its balance point.`,
    );
  }
  return {
    ok: true,
    inertiaKgM2,
    standardError,
    interval: [inertiaKgM2 - Z95 * standardError, inertiaKgM2 + Z95 * standardError],
    aboutBalanceKgM2: m * perMass,
    shares: {
      mass: variances.mass / variance,
      balance: variances.balance / variance,
      pivot: variances.pivot / variance,
      period: variances.period / variance,
      gravity: variances.gravity / variance,
    },
  };
}

function refuse(reason: string): NoInertia {
  return { ok: false, reason };
}

/** What is wrong with the readings by themselves, or null. */
function checkReadings(readings: PendulumReadings): string | null {
  const { massKg, balancePointM, pivotM, axisM, totalLengthM, period } = readings;
  if (!(massKg.value > 0)) return 'Weigh the implement first.';
  if (!(totalLengthM > 0)) return 'Measure the whole length first.';
  if (!(period.periodS > 0)) return 'Time the swings first.';
  for (const [name, place] of [
    ['balance point', balancePointM.value],
    ['pivot', pivotM.value],
    ['axis', axisM],
  ] as const) {
    if (!(place >= 0 && place <= totalLengthM)) {
      return `The ${name} lies beyond the implement. Measure it from the butt end.`;
    }
  }
  if (Math.abs(balancePointM.value - pivotM.value) < LEAST_DISTANCE_M) {
    return 'The pivot is almost at the balance point, where nothing swings. Hang it from near one end.';
  }
  return null;
}

/** What no body of this length and balance point can do, or null. */
function checkGyration(
  { massKg, balancePointM, totalLengthM }: PendulumReadings,
  aboutBalanceKgM2: number,
  standardError: number,
): string | null {
  const b = balancePointM.value;
  const most = massKg.value * b * (totalLengthM - b);
  if (aboutBalanceKgM2 + Z95 * standardError < 0) {
    return 'It swung faster than anything hung so far from its balance point can. Check that whole swings, to and fro, were counted, and measure balance point and pivot again.';
  }
  if (aboutBalanceKgM2 <= 0) {
    return 'By these numbers all its mass would sit in the balance point. Measure balance point and pivot again and count more swings.';
  }
  if (aboutBalanceKgM2 - Z95 * standardError > most) {
    return 'It swung more slowly than anything of this length can. Check that no swing was missed and that it hung freely, and measure balance point and pivot again.';
  }
  return null;
}
