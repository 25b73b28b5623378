import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { logJackknifeInterval } from '../statistics/log-jackknife-interval.ts';

/** Spread of elemental variables along and across the uncontrolled manifold, each per degree of freedom. */
export interface ManifoldSpread {
  readonly n: number;
  /** Along the manifold: combinations that leave the task variable unchanged. Squared unit of the elements. */
  readonly vUcm: Estimate | Unavailable;
  /** Across it: combinations that change the task variable. */
  readonly vOrt: Estimate | Unavailable;
  /** (vUcm - vOrt)/vTotal, from -n/d to n/(n - d) for n elements and d task variables; 0 alike. */
  readonly deltaV: Estimate | Unavailable;
  /**
   * Adapted Fisher z of deltaV less its value at deltaV = 0, so that 0 means alike for any n and d. It equals
   * half the logarithm of vUcm/vOrt.
   */
  readonly deltaVz: Estimate | Unavailable;
}

/** Deviations of each trial from the mean of some trials, split by the manifold. */
export interface ManifoldParts {
  readonly trials: number;
  readonly elements: number;
  readonly tasks: number;
  /** Components across the manifold, shape (tasks, trials): what changes the task variables. */
  readonly across: readonly Float64Array[];
  /** Elements themselves, shape (elements, trials). */
  readonly all: readonly Float64Array[];
}

/** A row of the Jacobian of which less than this share is left, others taken out, depends on them. */
const LEAST_INDEPENDENT_PART = 1e-9;
/** Elements whose SD is below this share of their size do not vary: rounding. */
const ROUNDING = 1e-12;

/**
 * Splits elemental variables by the uncontrolled manifold, the null space of the Jacobian.
 * @param columns one per element, a value per trial, all of one unit
 * @param jacobian one row per task variable: its derivative by each element at the mean configuration
 * @returns 'no-direction' when a row is zero, 'collinear' when rows depend on each other
 * @throws RangeError when rows and columns do not fit, or there are as many tasks as elements
 * Source: Scholz & Schoner 1999, doi 10.1007/s002210050738 (from memory).
 */
export function splitByManifold(
  columns: readonly Float64Array[],
  jacobian: readonly (readonly number[])[],
): ManifoldParts | Unavailable {
  const [elements, tasks] = [columns.length, jacobian.length];
  if (!(tasks >= 1 && tasks < elements) || jacobian.some((row) => row.length !== elements))
    throw new RangeError(
      `A Jacobian of ${tasks} rows for ${elements} elements: give fewer rows, each as long as there are elements`,
    );
  const basis = orthonormalRows(jacobian);
  if (isUnavailable(basis)) return basis;
  const trials = columns[0]!.length;
  return {
    trials,
    elements,
    tasks,
    all: columns,
    across: basis.map((direction) =>
      Float64Array.from({ length: trials }, (_, i) =>
        direction.reduce((sum, e, k) => sum + e * columns[k]![i]!, 0),
      ),
    ),
  };
}

/** Gram-Schmidt on the rows; what is across the manifold is their span. */
function orthonormalRows(rows: readonly (readonly number[])[]): number[][] | Unavailable {
  const basis: number[][] = [];
  for (const row of rows) {
    const length = Math.hypot(...row);
    if (!(length > 0)) return { reason: 'no-direction' };
    let rest = row.map((x) => x / length);
    for (const other of basis) {
      const share = rest.reduce((sum, x, k) => sum + x * other[k]!, 0);
      rest = rest.map((x, k) => x - share * other[k]!);
    }
    const left = Math.hypot(...rest);
    if (!(left > LEAST_INDEPENDENT_PART)) return { reason: 'collinear' };
    basis.push(rest.map((x) => x / left));
  }
  return basis;
}

/**
 * V_UCM, V_ORT and their normalised difference over some trials, variances with denominator N - 1:
 *   V_ORT = sum |f_across|^2/(d (N - 1)),  V_UCM = sum |f_along|^2/((n - d)(N - 1))
 *   deltaV = (V_UCM - V_ORT)/V_TOT,  n V_TOT = (n - d) V_UCM + d V_ORT
 *   deltaVz = 1/2 ln[(n/d + deltaV)/(n/(n - d) - deltaV)] - 1/2 ln[(n - d)/d] = 1/2 ln(V_UCM/V_ORT)
 * Intervals by the jackknife of the logarithms. They depend on which elements are chosen.
 * @param trials rows that count, all unless given; at least three, repeats allowed
 * @returns 'no-spread' in each part where there is none
 * Source: Scholz & Schoner 1999, doi 10.1007/s002210050738; Latash, Scholz & Schoner 2007 (both from memory);
 *   bounds and identity: reference.md section C.
 * Checked: tests/measures/uncontrolled-manifold.test.ts, published data and a planar arm
 */
export function manifoldSpread(
  parts: ManifoldParts,
  trials: Int32Array = Int32Array.from({ length: parts.trials }, (_, i) => i),
): ManifoldSpread {
  const { elements: n, tasks: d } = parts;
  const estimate = (of: (spread: Variances) => number) =>
    logJackknifeInterval([trials.length], (rows) => of(variances(parts, trials, rows)));
  const ratio = estimate(({ ucm, ort }) => (ort > 0 ? ucm / ort : Number.NaN));
  return {
    n: trials.length,
    vUcm: estimate(({ ucm }) => ucm),
    vOrt: estimate(({ ort }) => ort),
    deltaV: mapped(ratio, (rho) => (n * (rho - 1)) / ((n - d) * rho + d)),
    deltaVz: mapped(ratio, (rho) => Math.log(rho) / 2),
  };
}

/** How much wider one class of trials spreads than another, along and across the manifold: SD ratios. */
export interface ManifoldContrast {
  readonly along: Estimate | Unavailable;
  readonly across: Estimate | Unavailable;
}

/**
 * Compares two classes of trials on one manifold.
 * @param a, b rows of each class, at least three; the ratio is a over b
 */
export function compareOnManifold(
  parts: ManifoldParts,
  a: Int32Array,
  b: Int32Array,
): ManifoldContrast {
  const both = Int32Array.of(...a, ...b);
  const ratio = (of: (spread: Variances) => number) =>
    logJackknifeInterval([a.length, b.length], (first, second) =>
      Math.sqrt(of(variances(parts, both, first!)) / of(variances(parts, both, second!))),
    );
  return { along: ratio(({ ucm }) => ucm), across: ratio(({ ort }) => ort) };
}

interface Variances {
  readonly ucm: number;
  readonly ort: number;
}

/** @param rows index `trials`, which index the columns */
function variances(parts: ManifoldParts, trials: Int32Array, rows: Int32Array): Variances {
  const { elements, tasks, all, across } = parts;
  let total = 0;
  for (const column of all) total += columnVariance(column, trials, rows);
  let ort = 0;
  for (const column of across) ort += columnVariance(column, trials, rows);
  return { ucm: Math.max(0, total - ort) / (elements - tasks), ort: ort / tasks };
}

function columnVariance(column: Float64Array, trials: Int32Array, rows: Int32Array): number {
  let mean = 0;
  for (let i = 0; i < rows.length; i++) mean += column[trials[rows[i]!]!]! / rows.length;
  let squares = 0;
  for (let i = 0; i < rows.length; i++) squares += (column[trials[rows[i]!]!]! - mean) ** 2;
  const variance = squares / (rows.length - 1);
  return variance > (ROUNDING * (1 + Math.abs(mean))) ** 2 ? variance : 0;
}

function mapped(
  estimate: Estimate | Unavailable,
  to: (x: number) => number,
): Estimate | Unavailable {
  if (isUnavailable(estimate)) return estimate;
  const { value, low, high } = estimate;
  return { ...estimate, value: to(value), low: to(low), high: to(high) };
}
