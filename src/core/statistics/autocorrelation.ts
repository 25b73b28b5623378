import { dataFault, type Unavailable } from './estimate.ts';
import { checkedMean } from './moments.ts';

/**
 * Lag-1 autocorrelation, sum (y_i - m)(y_{i+1} - m) / sum (y_i - m)^2.
 * @param values in order, at least three, not all alike
 * Source: Box & Jenkins; as NIST StRD certifies it.  Checked: tests/statistics/moments.test.ts
 */
export function lag1Autocorrelation(values: ArrayLike<number>): number | Unavailable {
  const fault = dataFault(3, values);
  if (fault) return fault;
  const centre = checkedMean(values);
  let neighbours = 0;
  let squares = 0;
  let previous = 0;
  for (let i = 0; i < values.length; i++) {
    const deviation = values[i]! - centre;
    neighbours += deviation * previous;
    squares += deviation * deviation;
    previous = deviation;
  }
  return squares === 0 ? { reason: 'no-spread' } : neighbours / squares;
}
