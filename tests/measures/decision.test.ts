import { describe, expect, test } from 'vitest';
import { type Comparison, compareConditions } from '../../src/core/measures/comparison.ts';
import type { ComparedName } from '../../src/core/measures/comparison-measure.ts';
import { COMPARED } from '../../src/core/measures/comparison-words.ts';
import { decide } from '../../src/core/measures/decision.ts';
import type { Estimate, Unavailable } from '../../src/core/statistics/estimate.ts';
import { conditionSet, STEADY, STIFF, THRESHOLDS } from './condition-pairs.ts';

/** Smaller less larger, or the ratio: value and half width of the interval (of the logarithm), and Holm's p. */
type Said = readonly [value: number, half: number, pHolm: number] | Unavailable;

const NOTHING: Readonly<Record<ComparedName, Said>> = {
  score: [0.1, 2, 1],
  hitRate: [0, 0.3, 1],
  spread: [1, 0.6, 1],
  feedback: [1, 0.9, 1],
  narrowing: [1, 0.8, 1],
  distalShare: [0, 0.4, 1],
  coupling: [0, 0.5, 1],
  manifold: [0, 0.8, 1],
  speed: [0.5, 0.2, 0.001],
};

/** A comparison that says what a test wants it to say, out of 10 points. */
function saying(said: Partial<Record<ComparedName, Said>>, n = 20): Comparison {
  const measures = Object.entries({ ...NOTHING, ...said }).map(([key, answer]) => {
    const name = key as ComparedName;
    const { scale, favourable } = COMPARED[name];
    if ('reason' in answer) {
      const none = { smaller: answer, larger: answer, contrast: answer, p: answer, pHolm: answer };
      return [name, { name, ...none, favours: null }];
    }
    const [value, half, pHolm] = answer;
    const ratio = scale === 'ratio';
    const contrast: Estimate = {
      value,
      low: ratio ? value / Math.exp(half) : value - half,
      high: ratio ? value * Math.exp(half) : value + half,
      level: 0.95,
      n: 2 * n,
    };
    const smallerIsBetter = value > (ratio ? 1 : 0) === (favourable === 'higher');
    const favours =
      favourable === 'neither' || pHolm > 0.05 ? null : smallerIsBetter ? 'smaller' : 'larger';
    const p = { p: pHolm, rearrangements: 999, exact: false };
    return [name, { name, smaller: 1, larger: 1, contrast, p, pHolm, favours }];
  });
  return {
    n: { smaller: n, larger: n },
    accurateFrom: 10,
    measures: Object.fromEntries(measures) as Comparison['measures'],
  };
}

describe('the rule', () => {
  const better = {
    coupling: [0.6, 0.3, 0.01],
    spread: [0.5, 0.4, 0.02],
    score: [0.5, 1, 1],
  } as const;

  test('movement better with the smaller kit, score no worse: scale down, or stay with it', () => {
    const down = decide(saying(better), 'larger');
    expect(down.answer).toBe('scale-down');
    expect(down.speaksFor).toEqual([
      'reach at contact is steadier',
      'upper arm and forearm go together more than with the other kit',
    ]);
    expect(down.speaksAgainst).toEqual([]);
    expect(down.words).toContain('With the smaller kit reach at contact is steadier;');
    expect(down.words).toContain('the coach decides');
    const stay = decide(saying(better), 'smaller');
    expect(stay.answer).toBe('stay');
    expect(stay.speaksAgainst).toEqual(down.speaksFor);
    expect(stay.words).toContain('Stay with the smaller kit');
  });

  test('the same while the score may suffer: not enough, and that is said', () => {
    // Low end -2 of 10 points: beyond the margin of 1.5.
    const open = decide(saying({ ...better, score: [-0.5, 1.5, 1] }), 'larger');
    expect(open.answer).toBe('not-enough');
    expect(open.open).toEqual(['it is still open whether the score would suffer']);
    expect(open.speaksFor.length).toBe(2);
    // Margin 1.5, seen 0.5 worse, SE 1.5/1.96: 20 ((1.960 + 1.282) 0.7653 / 1)^2 - 20.
    expect(open.moreSwings).toBe(Math.ceil(20 * (3.2415 * 0.76532) ** 2 - 20));
    expect(open.words).toContain(`About ${open.moreSwings} more swings with each kit`);
  });

  test('score against movement: torn, nothing changes and both sides are named', () => {
    const against = { ...better, score: [-3, 1.5, 0.01] } as const;
    for (const current of ['smaller', 'larger'] as const) {
      const torn = decide(saying(against), current);
      expect(torn.answer).toBe('stay');
      expect(torn.serves).toBe('torn');
      expect(torn.words).toContain('With the larger kit balls score more.');
      expect(torn.words).toContain('With the smaller kit reach at contact is steadier');
      expect(torn.speaksFor.length + torn.speaksAgainst.length).toBe(3);
    }
  });

  test('the larger better, or no worse in all that counts: step up, or stay with it', () => {
    const up = decide(saying({ manifold: [-1, 0.5, 0.01], score: [0, 1, 1] }), 'smaller');
    expect(up.answer).toBe('step-up');
    const equal = saying({ score: [0, 1, 1], spread: [1, 0.3, 1], feedback: [1, 0.5, 1] });
    expect(decide(equal, 'smaller').answer).toBe('step-up');
    expect(decide(equal, 'smaller').speaksFor).toEqual([
      'the larger kit is no worse in score, steadiness of reach and clearness of feedback',
    ]);
    expect(decide(equal, 'larger').answer).toBe('stay');
    expect(decide(equal, 'larger').words).toContain('Stay with the larger kit');
  });

  test.each(['score', 'spread', 'feedback'] as const)(
    'equal in all but %s, which is open: not enough',
    (name) => {
      const equal = { score: [0, 1, 1], spread: [1, 0.3, 1], feedback: [1, 0.5, 1] } as const;
      const { answer, open, moreSwings } = decide(
        saying({ ...equal, [name]: NOTHING[name] }),
        'larger',
      );
      expect(answer).toBe('not-enough');
      expect(open.length).toBe(2);
      expect(moreSwings).toBeGreaterThan(0);
    },
  );

  test('speed alone decides nothing, and few swings ask for the least', () => {
    expect(decide(saying({}), 'larger').answer).toBe('not-enough');
    const few = decide(saying(better, 7), 'larger');
    expect(few.answer).toBe('not-enough');
    expect(few.words).toContain('7 of at least 10 swings with each kit');
    expect(few.words).toContain('At least 3 more swings with each kit are needed.');
  });
});

describe('what cannot be decided is said in words', () => {
  const good = conditionSet(STEADY, 20, 1);
  const stiff = conditionSet(STIFF, 20, 2);
  const decided = (smaller: typeof good, larger: typeof good) =>
    decide(
      compareConditions(
        { smaller, larger },
        { seed: 1, draws: 199, resamples: 100, thresholds: THRESHOLDS },
      ),
      'larger',
    );
  const points = (swings: typeof good, of: (i: number) => number | null) =>
    swings.map((swing, i) => ({ ...swing, points: of(i) }));

  test.each([
    ['no swings', [], [], '0 of at least 10 swings'],
    ['one swing', good.slice(0, 1), good, '1 of at least 10 swings'],
    ['two swings', good, good.slice(0, 2), '2 of at least 10 swings'],
    ['no scores', points(good, () => null), points(stiff, () => null), 'too few balls are scored'],
    ['one score', points(good, (i) => (i ? null : 4)), stiff, 'too few balls are scored'],
    ['all alike', points(good, () => 10), points(stiff, () => 10), 'another size would tell more'],
    [
      'a value missing',
      points(good, (i) => (i ? 3 : Number.NaN)),
      stiff,
      'a swing has a value missing',
    ],
    ['the same swings', good, good, 'no difference shown yet'],
  ])('%s', (_, smaller, larger, reason) => {
    const { answer, words, moreSwings } = decided(smaller, larger);
    expect(answer).toBe('not-enough');
    expect(words).toContain(reason);
    expect(words).not.toMatch(/NaN|undefined|Infinity|null/);
    expect(moreSwings === null || Number.isInteger(moreSwings)).toBe(true);
  });
});
