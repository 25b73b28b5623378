import { fUpperP } from './distributions.ts';
import { groupFault, type Unavailable } from './estimate.ts';
import { checkedMean } from './moments.ts';

/** Test of equal spread in several independent groups. */
export interface EqualSpread {
  /** W, an F ratio of the absolute deviations. */
  readonly statistic: number;
  readonly betweenDf: number;
  readonly withinDf: number;
  readonly p: number;
}

/**
 * Brown-Forsythe: analysis of variance of the distances from each group's median. Robust to tails.
 * @param groups at least two, each of at least three values
 * @returns 'no-spread' when the distances do not vary within any group
 * @throws RangeError with fewer than two groups
 * Source: Brown & Forsythe 1974, doi 10.1080/01621459.1974.10482955.
 * Checked: tests/statistics/equal-spread.test.ts, NIST GEAR
 */
export function brownForsythe(groups: readonly ArrayLike<number>[]): EqualSpread | Unavailable {
  return compareDistances(groups, median);
}

/**
 * Levene: the same from each group's mean; keener for normal data, too eager with heavy tails.
 * @param groups at least two, each of at least three values
 * @returns as {@link brownForsythe}
 * Source: Levene 1960.  Checked: tests/statistics/equal-spread.test.ts, NIST GEAR
 */
export function levene(groups: readonly ArrayLike<number>[]): EqualSpread | Unavailable {
  return compareDistances(groups, checkedMean);
}

function compareDistances(
  groups: readonly ArrayLike<number>[],
  centreOf: (group: ArrayLike<number>) => number,
): EqualSpread | Unavailable {
  if (groups.length < 2)
    throw new RangeError(`Equal spread of ${groups.length} group: give at least two`);
  const fault = groupFault(3, groups);
  if (fault) return fault;
  const distances = groups.map((group) => {
    const centre = centreOf(group);
    return Float64Array.from(group, (value) => Math.abs(value - centre));
  });
  const all = distances.flatMap((group) => [...group]);
  const grandMean = checkedMean(all);
  let between = 0;
  let within = 0;
  for (const group of distances) {
    const centre = checkedMean(group);
    between += group.length * (centre - grandMean) ** 2;
    for (const distance of group) within += (distance - centre) ** 2;
  }
  if (within === 0) return { reason: 'no-spread' };
  const betweenDf = groups.length - 1;
  const withinDf = all.length - groups.length;
  const statistic = between / betweenDf / (within / withinDf);
  return { statistic, betweenDf, withinDf, p: fUpperP(statistic, betweenDf, withinDf) };
}

function median(values: ArrayLike<number>): number {
  const sorted = Float64Array.from(values).sort();
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}
