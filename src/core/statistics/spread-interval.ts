import { CONFIDENCE, dataFault, type Estimate, type Unavailable } from './estimate.ts';
import { logJackknifeInterval } from './log-jackknife-interval.ts';
import { checkedSd } from './moments.ts';

/** A variance needs two values, and one is left out. */
const LEAST_VALUES = 3;
/** An SD below this share of the values is rounding: they are all alike. */
const ROUNDING = 1e-12;

/**
 * Sample SD with the interval of the jackknife of its logarithm, which does not take the data for normal: of 20 values
 * with the tails of Student's t, 5 df, it holds the truth 93 % of the time, the interval for normal data 85 %.
 * @param values at least three, not all alike
 * Source: Miller 1968, see logJackknifeInterval.
 * Checked: tests/statistics/spread-interval.test.ts; coverage: tests/measures/coverage.test.ts
 */
export function spreadInterval(
  values: ArrayLike<number>,
  level = CONFIDENCE,
): Estimate | Unavailable {
  const fault = dataFault(LEAST_VALUES, values);
  if (fault) return fault;
  let largest = 0;
  for (let i = 0; i < values.length; i++) largest = Math.max(largest, Math.abs(values[i]!));
  // once for every instant of a funnel: without a new column for every value left out
  const taken = new Float64Array(values.length);
  return logJackknifeInterval(
    [values.length],
    (rows) => {
      for (let i = 0; i < rows!.length; i++) taken[i] = values[rows![i]!]!;
      const spread = checkedSd(taken.subarray(0, rows!.length));
      return spread > ROUNDING * largest ? spread : { reason: 'no-spread' };
    },
    level,
  );
}
