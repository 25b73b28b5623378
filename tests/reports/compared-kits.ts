import type { ComparedMeasure, Comparison } from '../../src/core/measures/comparison.ts';
import type { ComparedName, Kit } from '../../src/core/measures/comparison-measure.ts';
import { COMPARED } from '../../src/core/measures/comparison-words.ts';

/** A comparison by hand in which these measures speak for a kit and the others are even. */
export function comparisonOf(
  speaking: Partial<Record<ComparedName, Kit>>,
  n: Comparison['n'] = { smaller: 20, larger: 20 },
): Comparison {
  const names = Object.keys(COMPARED) as ComparedName[];
  return {
    n,
    accurateFrom: 10,
    measures: Object.fromEntries(
      names.map((name) => [name, measureOf(name, speaking[name] ?? null)]),
    ) as Comparison['measures'],
  };
}

function measureOf(name: ComparedName, favours: Kit | null): ComparedMeasure {
  const { scale, favourable } = COMPARED[name];
  const isSmallerMore = (favours === 'smaller') === (favourable === 'higher');
  const apart = favours === null ? 0 : isSmallerMore ? 1 : -1;
  const to = (x: number): number => (scale === 'ratio' ? Math.exp(x) : x);
  const p = favours === null ? 0.5 : 0.001;
  return {
    name,
    smaller: to(2 + apart),
    larger: to(2),
    contrast: { value: to(apart), low: to(apart - 0.1), high: to(apart + 0.1), level: 0.95, n: 40 },
    p: { p, rearrangements: 1999, exact: false },
    pHolm: p,
    favours,
  };
}
