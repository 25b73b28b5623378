import { isUnavailable } from '../../core/statistics/estimate.ts';
import { mean } from '../../core/statistics/moments.ts';
import type { Axis } from '../pictures/Frame.tsx';
import { CM } from '../pictures/read-set.ts';
import { extentOf, roundRange, ticksBetween } from '../pictures/scale.ts';
import type { ComparedSide } from './worker-words.ts';

/** Reach of each swing less the mean of its side, cm. */
export function offMeanCm({ reachM }: Pick<ComparedSide, 'reachM'>): Float64Array {
  const centre = mean(reachM);
  return reachM.map((r) => (isUnavailable(centre) ? Number.NaN : CM * (r - centre)));
}

/** The axis of {@link offMeanCm} over these values, marked often enough to read a centimetre. */
export function offMeanAxis(valuesCm: Iterable<number>): Axis {
  const [least, most] = extentOf(valuesCm, [-1, 1]);
  const [low, high] = roundRange(least - 0.3, most + 0.3, 6);
  const ticks = ticksBetween(low, high, 6).map((at) => ({
    at,
    label: String(at).replace('-', '−'),
  }));
  return { low, high, label: 'Reach off its own average, cm', ticks };
}
