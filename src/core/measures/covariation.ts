import { seededRandom } from '../maths/random.ts';
import { dataFault, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { checkedCovariance } from '../statistics/moments.ts';
import type { PermutationOptions } from '../statistics/permutation-test.ts';

/** How much less (or more) an outcome varies than it would if its elements varied independently. */
export interface Covariation {
  readonly n: number;
  /** Variance of the outcome as measured. */
  readonly variance: number;
  /** Mean variance when each element is dealt anew to the trials: the same elements without covariation. */
  readonly freeVariance: number;
  /** SD without covariation less the measured one: above 0 the elements make up for each other. */
  readonly sdGain: number;
  /** Share of the rearrangements whose outcome varies as little as the measured one, one-sided. */
  readonly p: number;
  readonly rearrangements: number;
  readonly exact: boolean;
}

const DRAWS = 1999;
const EXACT_UP_TO = 10_000;
const LEAST_TRIALS = 4;
/** Sums taken in another order may differ by rounding; such rearrangements are ties. */
const TIE = 1e-10;

/**
 * Covariation by permutation: measured outcome variance against "covariation-free variability", each element
 * permuted over the trials independently. It takes no linear model and does not depend on the units of the
 * elements.
 * @param elements one column each, a value per trial; at least two columns and four trials
 * @param outcome task variable of one configuration, one value per element
 * @returns exact when there are at most 10 000 arrangements ((trials!)^(elements - 1)); else p is
 *   (b + 1)/(m + 1) over random ones, freeVariance their mean
 * Source: Muller & Sternad 2003, doi 10.1007/s00422-003-0399-5 (from memory; abstract in reference.md C3).
 * Checked: tests/measures/covariation.test.ts, exact values of a planar arm
 */
export function covariation(
  elements: readonly ArrayLike<number>[],
  outcome: (configuration: Float64Array) => number,
  { seed, draws = DRAWS }: PermutationOptions,
): Covariation | Unavailable {
  const fault = dataFault(LEAST_TRIALS, ...elements);
  if (fault) return fault;
  const n = elements[0]!.length;
  // Only how elements meet counts, so the first may stay.
  const orders = elements.map(() => Int32Array.from({ length: n }, (_, i) => i));
  const configuration = new Float64Array(elements.length);
  const outcomes = new Float64Array(n);
  const varianceNow = () => {
    for (let i = 0; i < n; i++) {
      for (const [k, order] of orders.entries()) configuration[k] = elements[k]![order[i]!]!;
      outcomes[i] = outcome(configuration);
    }
    return checkedCovariance(outcomes, outcomes);
  };
  const variance = varianceNow();
  if (!Number.isFinite(variance)) return { reason: 'unstable', failed: 1, of: 1 };
  const tally = { count: 0, sum: 0, asSmall: 0 };
  const visit = () => {
    const permuted = varianceNow();
    tally.count++;
    tally.sum += permuted;
    if (permuted <= variance * (1 + TIE)) tally.asSmall++;
  };
  const exact = arrangements(n, elements.length) <= EXACT_UP_TO;
  if (exact) forEveryOrder(orders.slice(1), visit);
  else drawOrders(orders.slice(1), draws, seed, visit);
  const freeVariance = tally.sum / tally.count;
  if (!(freeVariance > 0)) return { reason: 'no-spread' };
  const extra = exact ? 0 : 1;
  return {
    n,
    variance,
    freeVariance,
    sdGain: Math.sqrt(freeVariance) - Math.sqrt(variance),
    p: (tally.asSmall + extra) / (tally.count + extra),
    rearrangements: tally.count,
    exact,
  };
}

/** Does covariation keep the outcome steady, beyond chance? */
export function isSteadying(found: Covariation | Unavailable, alpha: number): boolean {
  return !isUnavailable(found) && found.p <= alpha && found.sdGain > 0;
}

function arrangements(n: number, elements: number): number {
  let orders = 1;
  for (let i = 2; i <= n; i++) orders *= i;
  return orders ** (elements - 1);
}

/** Every permutation of every order, by exchanges of two (Heap 1963). */
function forEveryOrder(orders: readonly Int32Array[], visit: () => void): void {
  const [first, ...rest] = orders;
  if (!first) {
    visit();
    return;
  }
  const permute = (size: number) => {
    if (size === 1) {
      forEveryOrder(rest, visit);
      return;
    }
    for (let i = 0; i < size; i++) {
      permute(size - 1);
      if (i < size - 1) exchange(first, size % 2 === 0 ? i : 0, size - 1);
    }
  };
  permute(first.length);
}

function drawOrders(
  orders: readonly Int32Array[],
  draws: number,
  seed: number,
  visit: () => void,
): void {
  const random = seededRandom(seed);
  for (let draw = 0; draw < draws; draw++) {
    for (const order of orders)
      for (let i = order.length - 1; i > 0; i--)
        exchange(order, i, Math.floor(random.uniform(0, i + 1)));
    visit();
  }
}

function exchange(order: Int32Array, i: number, j: number): void {
  const kept = order[i]!;
  order[i] = order[j]!;
  order[j] = kept;
}
