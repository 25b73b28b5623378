import { type PostureDeviations, reachGradient, TURNS } from './posture-deviations.ts';

/** Tenths of the swing. */
export const BINS = 10;
/**
 * Per cent from the beginning of a bin: the two nodes of Gauss and Legendre, 2.1 and 7.9, to whole points. With them
 * the mean over a bin is right for cubic curves, and more points add nothing.
 */
const IN_BIN = [2, 8];
/** Points of the swing that are read: 2, 8, 12, 18, .. 92, 98 %. */
export const BINNED_POINTS: readonly number[] = Array.from({ length: BINS }, (_, bin) =>
  IN_BIN.map((point) => 10 * bin + point),
).flat();

/** Bin of one of {@link BINNED_POINTS}, by its index. */
export function binOf(p: number): number {
  return Math.floor(p / IN_BIN.length);
}

/** Numbers in a covariance of three contributions: 11, 22, 33, 12, 13, 23. */
export const COVARIANCE_SIZE = 6;

/** A spread below ten nanometres is rounding: swings that are all alike have none. */
export const ROUNDING_M2 = 1e-16;

/**
 * Covariances (n, not n - 1) of the segments' contributions J_k delta theta_k to reach, summed over the points
 * of each bin, for any choice of swings; the gradient J is that of the mean posture of the chosen ones. Near
 * a straight arm it turns quickly with the posture: kept fixed, intervals there would be far too narrow.
 * Answer of shape (10, 6), used again by the next call.
 */
export type BinnedCovariance = (rows: Int32Array) => Float64Array;

/**
 * Prepares covariances over bins for resampling.
 * @param deviations at {@link BINNED_POINTS}
 * Source: nodes: Gauss and Legendre; first-order propagation of a covariance.
 * Checked: tests/measures/shares.test.ts, closed form of a planar arm
 */
export function binnedCovariance(deviations: PostureDeviations): BinnedCovariance {
  const { n, postures, turnRad, lengthsM } = deviations;
  const counts = new Int32Array(n);
  const mean = new Float64Array(TURNS);
  const gradient = new Float64Array(TURNS);
  const out = new Float64Array(BINS * COVARIANCE_SIZE);
  return (rows) => {
    counts.fill(0);
    for (let i = 0; i < rows.length; i++) counts[rows[i]!]!++;
    out.fill(0);
    for (let p = 0; p < postures.length; p++) {
      const turns = turnRad.subarray(p * n * TURNS, (p + 1) * n * TURNS);
      fillMean(mean, turns, counts, rows.length);
      reachGradient(gradient, postures[p]!, lengthsM, mean);
      addCovariance(out, binOf(p) * COVARIANCE_SIZE, turns, counts, rows.length, mean, gradient);
    }
    for (let c = 0; c < out.length; c++) if (Math.abs(out[c]!) < ROUNDING_M2) out[c] = 0;
    return out;
  };
}

// The two loops below run a million times per set: everything in them stays in local numbers.

/** Mean turns at a point, each swing counted so often. @param turns shape (n, 6) @param mean shape (6) */
function fillMean(
  mean: Float64Array,
  turns: Float64Array,
  counts: Int32Array,
  total: number,
): void {
  let a = 0;
  let b = 0;
  let c = 0;
  let d = 0;
  let e = 0;
  let f = 0;
  for (let i = 0, at = 0; i < counts.length; i++, at += TURNS) {
    const weight = counts[i]!;
    // A third of the swings is not in a resample.
    if (weight === 0) continue;
    a += weight * turns[at]!;
    b += weight * turns[at + 1]!;
    c += weight * turns[at + 2]!;
    d += weight * turns[at + 3]!;
    e += weight * turns[at + 4]!;
    f += weight * turns[at + 5]!;
  }
  mean[0] = a / total;
  mean[1] = b / total;
  mean[2] = c / total;
  mean[3] = d / total;
  mean[4] = e / total;
  mean[5] = f / total;
}

/** Adds the covariance of the three contributions at a point to its bin. */
function addCovariance(
  out: Float64Array,
  at: number,
  turns: Float64Array,
  counts: Int32Array,
  total: number,
  mean: Float64Array,
  gradient: Float64Array,
): void {
  const ga = gradient[0]!;
  const gb = gradient[1]!;
  const gc = gradient[2]!;
  const gd = gradient[3]!;
  const ge = gradient[4]!;
  const gf = gradient[5]!;
  const mx = ga * mean[0]! + gb * mean[1]!;
  const my = gc * mean[2]! + gd * mean[3]!;
  const mz = ge * mean[4]! + gf * mean[5]!;
  let xx = 0;
  let yy = 0;
  let zz = 0;
  let xy = 0;
  let xz = 0;
  let yz = 0;
  for (let i = 0, from = 0; i < counts.length; i++, from += TURNS) {
    const weight = counts[i]!;
    if (weight === 0) continue;
    const x = ga * turns[from]! + gb * turns[from + 1]! - mx;
    const y = gc * turns[from + 2]! + gd * turns[from + 3]! - my;
    const z = ge * turns[from + 4]! + gf * turns[from + 5]! - mz;
    xx += weight * x * x;
    yy += weight * y * y;
    zz += weight * z * z;
    xy += weight * x * y;
    xz += weight * x * z;
    yz += weight * y * z;
  }
  out[at]! += xx / total;
  out[at + 1]! += yy / total;
  out[at + 2]! += zz / total;
  out[at + 3]! += xy / total;
  out[at + 4]! += xz / total;
  out[at + 5]! += yz / total;
}
