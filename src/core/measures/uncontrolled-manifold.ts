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

/** Elemental variables of some trials, and how the task variables depend on them. */
export interface Elements {
  /** One per element, a value per trial, all of one unit. */
  readonly columns: readonly Float64Array[];
  /** Derivatives of the task variables at a configuration of the elements: one row each, fewer than elements. */
  readonly jacobianAt: (configuration: readonly number[]) => readonly (readonly number[])[];
}

/** A row of the Jacobian of which less than this share is left, others taken out, depends on them. */
const LEAST_INDEPENDENT_PART = 1e-9;
/** Elements whose SD is below this share of their size do not vary: rounding. */
const ROUNDING = 1e-12;

/**
 * Unit vectors across the uncontrolled manifold, which is the null space of the Jacobian at the mean configuration.
 * @param trials rows whose mean it is @throws RangeError when rows and columns do not fit
 */
function acrossAtMean(
  { columns, jacobianAt }: Elements,
  trials: Int32Array,
): number[][] | Unavailable {
  const jacobian = jacobianAt(columns.map((column) => meanOf(column, trials)));
  const [elements, tasks] = [columns.length, jacobian.length];
  if (!(tasks >= 1 && tasks < elements) || jacobian.some((row) => row.length !== elements))
    throw new RangeError(
      `A Jacobian of ${tasks} rows for ${elements} elements: give fewer rows, each as long as there are elements`,
    );
  return orthonormalRows(jacobian);
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
 * Intervals by the jackknife of the logarithms. The manifold is that of the mean configuration, and near a straight
 * arm it turns quickly with it: it is found anew whenever a trial is left out, as it would be with other trials. All
 * of it depends on which elements are chosen.
 * @param trials rows that count, all unless given; at least three, repeats allowed
 * @returns in each part 'no-spread' when there is none, 'no-direction' when a row of the Jacobian is zero, 'collinear'
 *   when rows depend on each other
 * @throws RangeError when rows of the Jacobian and columns do not fit
 * Source: Scholz & Schoner 1999, doi 10.1007/s002210050738; Latash, Scholz & Schoner 2007 (both from memory);
 *   bounds and identity: reference.md section C.
 * Checked: tests/measures/uncontrolled-manifold.test.ts, published data and a planar arm
 */
export function manifoldSpread(
  elements: Elements,
  trials: Int32Array = Int32Array.from(elements.columns[0]!, (_, i) => i),
): ManifoldSpread {
  const whole = acrossAtMean(elements, trials);
  const estimate = (of: (spread: Variances) => number) =>
    logJackknifeInterval([trials.length], (rows) => {
      const counted = rows.map((row) => trials[row]!);
      const across = acrossAtMean(elements, counted);
      return isUnavailable(across) ? across : of(variances(elements, across, counted));
    });
  const ratio = estimate(({ ucm, ort }) => (ort > 0 ? ucm / ort : Number.NaN));
  const [n, d] = [elements.columns.length, isUnavailable(whole) ? 0 : whole.length];
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
 * Compares two classes of trials on one manifold, that of the mean of both together; reasons as in manifoldSpread.
 * @param a, b rows of each class, at least three; the ratio is a over b
 * Source: as manifoldSpread.  Checked: tests/measures/uncontrolled-manifold.test.ts
 */
export function compareOnManifold(
  elements: Elements,
  a: Int32Array,
  b: Int32Array,
): ManifoldContrast {
  const both = Int32Array.of(...a, ...b);
  const ratio = (of: (spread: Variances) => number) =>
    logJackknifeInterval([a.length, b.length], (first, second) => {
      const [one, other] = [first!, second!].map((rows) => rows.map((row) => both[row]!)) as [
        Int32Array,
        Int32Array,
      ];
      const across = acrossAtMean(elements, Int32Array.of(...one, ...other));
      if (isUnavailable(across)) return across;
      const square = of(variances(elements, across, one)) / of(variances(elements, across, other));
      return Math.sqrt(square);
    });
  return { along: ratio(({ ucm }) => ucm), across: ratio(({ ort }) => ort) };
}

interface Variances {
  readonly ucm: number;
  readonly ort: number;
}

/** @param across unit vectors across the manifold */
function variances(
  { columns }: Elements,
  across: readonly (readonly number[])[],
  trials: Int32Array,
): Variances {
  const means = columns.map((column) => meanOf(column, trials));
  let [total, ort] = [0, 0];
  for (const [j, x] of columns.entries())
    for (let k = 0; k <= j; k++) {
      const c = covarianceOf(x, columns[k]!, means[j]!, means[k]!, trials);
      if (k === j) total += c;
      for (const direction of across) ort += (k === j ? 1 : 2) * direction[j]! * direction[k]! * c;
    }
  // Below it variances are rounding of the largest element.
  const least = (ROUNDING * (1 + Math.max(...means.map(Math.abs)))) ** 2;
  const held = (variance: number) => (variance > least ? variance : 0);
  const tasks = across.length;
  return { ucm: held(total - ort) / (columns.length - tasks), ort: held(ort) / tasks };
}

function covarianceOf(
  x: Float64Array,
  y: Float64Array,
  meanX: number,
  meanY: number,
  trials: Int32Array,
): number {
  let products = 0;
  for (let i = 0; i < trials.length; i++)
    products += (x[trials[i]!]! - meanX) * (y[trials[i]!]! - meanY);
  return products / (trials.length - 1);
}

function meanOf(column: Float64Array, trials: Int32Array): number {
  let sum = 0;
  for (let i = 0; i < trials.length; i++) sum += column[trials[i]!]!;
  return sum / trials.length;
}

function mapped(
  estimate: Estimate | Unavailable,
  to: (x: number) => number,
): Estimate | Unavailable {
  if (isUnavailable(estimate)) return estimate;
  const { value, low, high } = estimate;
  return { ...estimate, value: to(value), low: to(low), high: to(high) };
}
