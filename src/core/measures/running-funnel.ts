import { SWING_POINTS } from '../swings/swing.ts';
import type { Funnel, ReachCurve } from './funnel.ts';

/** A funnel that swings are added to and taken from; plain data, to be saved and resumed. */
export interface RunningFunnel {
  n: number;
  /** Mean reach, metres, shape (101). */
  readonly meanM: Float64Array;
  /** Squared deviations from the mean, summed over swings, square metres, shape (101). */
  readonly deviationSquares: Float64Array;
  /** Squared noise, summed over swings, square metres, shape (101). */
  readonly noiseSquares: Float64Array;
}

/** A funnel of no swing. */
export function createRunningFunnel(): RunningFunnel {
  const column = () => new Float64Array(SWING_POINTS);
  return { n: 0, meanM: column(), deviationSquares: column(), noiseSquares: column() };
}

/**
 * Adds a swing that has a reach; every number is updated in place.
 * Source: Welford 1962, doi 10.1080/00401706.1962.10490022.
 * Checked: tests/measures/running-funnel.test.ts, against NIST and the funnel of the whole set
 */
export function addSwing(
  funnel: RunningFunnel,
  { reachCurveM, reachCurveNoiseM }: ReachCurve,
): void {
  funnel.n++;
  for (let p = 0; p < SWING_POINTS; p++) {
    const before = reachCurveM[p]! - funnel.meanM[p]!;
    funnel.meanM[p]! += before / funnel.n;
    funnel.deviationSquares[p]! += before * (reachCurveM[p]! - funnel.meanM[p]!);
    funnel.noiseSquares[p]! += reachCurveNoiseM[p]! ** 2;
  }
}

/**
 * Takes out a swing that was added before: {@link addSwing} backwards.
 * @throws RangeError when there is none to take out
 */
export function removeSwing(
  funnel: RunningFunnel,
  { reachCurveM, reachCurveNoiseM }: ReachCurve,
): void {
  if (funnel.n === 0) throw new RangeError('removeSwing: no swing was added that could be removed');
  funnel.n--;
  for (let p = 0; p < SWING_POINTS; p++) {
    const before = reachCurveM[p]! - funnel.meanM[p]!;
    // What rounding leaves behind must not live on in an empty funnel.
    funnel.meanM[p] = funnel.n === 0 ? 0 : funnel.meanM[p]! - before / funnel.n;
    const squares = funnel.deviationSquares[p]! - before * (reachCurveM[p]! - funnel.meanM[p]!);
    funnel.deviationSquares[p] = funnel.n < 2 ? 0 : Math.max(0, squares);
    const noise = funnel.noiseSquares[p]! - reachCurveNoiseM[p]! ** 2;
    funnel.noiseSquares[p] = funnel.n === 0 ? 0 : Math.max(0, noise);
  }
}

/** The funnel so far, as summariseFunnel gives it. */
export function funnelSoFar({ n, meanM, deviationSquares, noiseSquares }: RunningFunnel): Funnel {
  const column = (least: number, f: (p: number) => number) =>
    Float64Array.from({ length: SWING_POINTS }, (_, p) => (n < least ? Number.NaN : f(p)));
  return {
    n,
    spreadM: column(2, (p) => Math.sqrt(deviationSquares[p]! / (n - 1))),
    meanM: column(1, (p) => meanM[p]!),
    floorM: column(1, (p) => Math.sqrt(noiseSquares[p]! / n)),
  };
}
