import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { armAngles } from '../../src/core/measures/arm-angles.ts';
import { compareConditions } from '../../src/core/measures/comparison.ts';
import { compareCoupling, compareDistalShare } from '../../src/core/measures/comparison-arm.ts';
import { compareManifold } from '../../src/core/measures/comparison-manifold.ts';
import type { TwoConditions } from '../../src/core/measures/comparison-measure.ts';
import { compareNarrowing } from '../../src/core/measures/comparison-narrowing.ts';
import { compareFeedback, compareSpread } from '../../src/core/measures/comparison-reach.ts';
import { compareHitRate, compareScore } from '../../src/core/measures/comparison-score.ts';
import { COMPARED } from '../../src/core/measures/comparison-words.ts';
import { jointElements } from '../../src/core/measures/manifold-through-swing.ts';
import type { MeasuredSwing } from '../../src/core/measures/measured-swing.ts';
import { narrowingRatio } from '../../src/core/measures/narrowing.ts';
import { meanArm } from '../../src/core/measures/reach-gradient.ts';
import { reachInPercent } from '../../src/core/measures/reach-table.ts';
import { manifoldSpread } from '../../src/core/measures/uncontrolled-manifold.ts';
import { isUnavailable } from '../../src/core/statistics/estimate.ts';
import { answered, expectNear, ROUNDING } from '../statistics/answers.ts';
import { MICE } from '../statistics/mice.ts';
import { APART, AT_ELBOW_LIMIT, DISTAL_COUPLED, PROXIMAL_FROZEN } from './arm-players.ts';
import { trueShares } from './arm-truth.ts';
import { conditionSet, STEADY, STIFF, THRESHOLDS } from './condition-pairs.ts';
import { contrastRates, PAIRS } from './decision-simulations.ts';
import { swingOfReach } from './hand-made-swings.ts';
import { swingsOf, type VirtualArm } from './virtual-arms.ts';

const OPTIONS = { seed: 1, draws: 399, resamples: 200, thresholds: THRESHOLDS };
const TEMPLATE = swingOfReach(() => 0.9);
const scored = (points: readonly (number | null)[]): MeasuredSwing[] =>
  points.map((p) => ({ ...TEMPLATE, points: p }));
const reaching = (reachM: readonly number[], points: (i: number) => number | null = () => null) =>
  reachM.map((r, i) => ({
    ...swingOfReach((x) => (x === 1 ? r : 0.9 + 2 * (r - 0.9))),
    points: points(i),
  }));
const hits = (count: number, of: number) =>
  scored(Array.from({ length: of }, (_, i) => (i < count ? 10 : 0)));

test('mean score: difference and interval of Welch, balls without score left out', () => {
  const sets = {
    smaller: scored([...MICE.treated, null]),
    larger: scored([null, ...MICE.control]),
  };
  const found = compareScore(sets, { ...OPTIONS, draws: 9999 });
  // make-comparison.py.
  expectNear(answered(found.contrast).low, -34.15278514001334, ROUNDING);
  expectNear(answered(found.contrast).high, 95.42262640985462, ROUNDING);
  expect(answered(found.p).exact).toBe(true);
  // Exact p of the plain difference: reference.md B10, 0.278; Welch's t orders rearrangements a little otherwise.
  expect(Math.abs(answered(found.p).p - 0.278)).toBeLessThan(0.03);
});

test('hit rates 56 of 70 and 48 of 80: Newcombe 1998, table II, method 10 (from memory)', () => {
  const { contrast } = compareHitRate({ smaller: hits(56, 70), larger: hits(48, 80) }, OPTIONS);
  expect(Math.abs(answered(contrast).low - 0.0524)).toBeLessThan(6e-5);
  expect(Math.abs(answered(contrast).high - 0.3339)).toBeLessThan(6e-5);
});

test('deviations of one third give a spread ratio of one third, narrowing alike, and swapped conditions the inverse', () => {
  const deviations = Array.from({ length: 16 }, (_, i) => 0.01 * Math.sin(37 * (i + 1)));
  const sets = {
    smaller: reaching(deviations.map((d) => 0.9 + d / 3)),
    larger: reaching(deviations.map((d) => 0.9 + d)),
  };
  const found = compareSpread(sets, OPTIONS);
  expectNear(answered(found.contrast).value, 1 / 3, 1e-9);
  const turned = compareSpread({ smaller: sets.larger, larger: sets.smaller }, OPTIONS);
  expectNear(answered(turned.contrast).low, 1 / answered(found.contrast).high, 1e-9);
  const noiseless = Object.fromEntries(
    Object.entries(sets).map(([kit, swings]) => [
      kit,
      swings.map((swing) => ({ ...swing, reachCurveNoiseM: new Float64Array(101) })),
    ]),
  ) as unknown as TwoConditions;
  const narrowing = compareNarrowing(noiseless, OPTIONS);
  expectNear(answered(narrowing.contrast).value, 1, 1e-9);
  expectNear(narrowing.smaller as number, 0.5, 1e-9);
});

test('feedback: SDs of 1 and 3 cm by class against 2 and 2 cm', () => {
  const wave = (i: number) => (i % 2 === 0 ? 1 : -1);
  const sets = {
    smaller: reaching(
      Array.from({ length: 24 }, (_, i) => 0.9 + (i < 12 ? 0.01 : 0.03) * wave(i)),
      (i) => (i < 12 ? 10 : 3),
    ),
    larger: reaching(
      Array.from({ length: 24 }, (_, i) => 0.9 + 0.02 * wave(i)),
      (i) => (i < 12 ? 10 : 3),
    ),
  };
  const found = compareFeedback(sets, OPTIONS);
  expectNear(answered(found.contrast).value, 1 / 3, 1e-9);
  expect(answered(found.p).p).toBeLessThan(0.01);
});

describe('values are those of the measures of one set', () => {
  const sets = { smaller: conditionSet(STEADY, 30, 5), larger: conditionSet(STIFF, 30, 6) };

  test('narrowing ratio', () => {
    const found = compareNarrowing(sets, OPTIONS);
    const ratio = (swings: MeasuredSwing[]) =>
      answered(narrowingRatio(reachInPercent(swings), { seed: 1, resamples: 100 })).ratio;
    expectNear(found.smaller as number, ratio(sets.smaller), 1e-9);
    expectNear(found.larger as number, ratio(sets.larger), 1e-9);
  });

  test('deltaVz of elbow and wrist', () => {
    const deltaVz = (swings: MeasuredSwing[]) => {
      const angles = answered(armAngles(swings));
      const arm = answered(meanArm(swings, angles.plane.normal, 100));
      return answered(manifoldSpread(jointElements(angles, arm, 100)).deltaVz).value;
    };
    const found = compareManifold(sets, OPTIONS);
    expectNear(found.smaller as number, deltaVz(sets.smaller), 1e-9);
    expectNear(answered(found.contrast).value, deltaVz(sets.smaller) - deltaVz(sets.larger), 1e-9);
  });

  test('distal share and coupling hold the truth of the virtual arms', () => {
    const share = compareDistalShare(sets, OPTIONS);
    const truth = trueShares(DISTAL_COUPLED).distal - trueShares(PROXIMAL_FROZEN).distal;
    expect(answered(share.contrast).low).toBeLessThan(truth);
    expect(answered(share.contrast).high).toBeGreaterThan(truth);
    // Weakest: upper arm z1 3, elbow z1 3 + z2 2 in the one; nothing in common in the other. R^2 = 9/13.
    const { contrast } = compareCoupling(sets, OPTIONS);
    expect(answered(contrast).low).toBeLessThan(9 / 13);
    expect(answered(contrast).high).toBeGreaterThan(9 / 13);
  });
});

test('a clear pair: the theory speaks for the smaller kit, speed for neither', () => {
  const sets = { smaller: conditionSet(STEADY, 40, 1), larger: conditionSet(STIFF, 40, 2) };
  const found = compareConditions(sets, OPTIONS);
  expect(found.n).toEqual({ smaller: 40, larger: 40 });
  for (const name of ['spread', 'narrowing', 'distalShare', 'coupling', 'manifold'] as const)
    expect(found.measures[name].favours).toBe('smaller');
  expect(found.measures.speed.favours).toBeNull();
  for (const { p, pHolm } of Object.values(found.measures))
    expect(pHolm).toBeGreaterThanOrEqual(answered(p).p);
});

describe('intervals hold the truth and p values their level', () => {
  // 60 pairs: three standard errors of 95 and of 5 % are 8.4 %. The table of 300 pairs, with n = 40 and the measures
  // that take longer: print-decision-operating.ts.
  const experiment = { n: 20, pairs: 60, seed: 3100, draws: 199, resamples: 100 };
  test.each([
    ['score', compareScore],
    ['hit rate', compareHitRate],
    ['spread', compareSpread],
    ['narrowing', compareNarrowing],
    ['coupling', compareCoupling],
    ['manifold', compareManifold],
  ] as const)('%s, of players who do not differ', { timeout: 30_000 }, (_, compare) => {
    const { held, small } = contrastRates(compare, PAIRS['equal, good'], experiment);
    expect(held).toBeGreaterThanOrEqual(95 - 8.4);
    expect(small).toBeLessThanOrEqual(5 + 8.4);
  });
  test.each([
    ['score', compareScore],
    ['hit rate', compareHitRate],
    ['spread', compareSpread],
  ] as const)('%s, of players who do', (_, compare) => {
    const { held } = contrastRates(compare, PAIRS['smaller better, clearly'], experiment);
    expect(held).toBeGreaterThanOrEqual(95 - 8.4);
  });
});

describe('what cannot be compared says why, and nothing throws', () => {
  const good = conditionSet(STEADY, 20, 1);
  const compared = (smaller: readonly MeasuredSwing[], larger: readonly MeasuredSwing[] = good) => {
    const found = compareConditions({ smaller, larger }, { ...OPTIONS, draws: 99, resamples: 100 });
    const numbers = JSON.stringify(found, (_, v) =>
      typeof v === 'number' && !Number.isFinite(v) ? 'NOT A NUMBER' : v,
    );
    expect(numbers).not.toContain('NOT A NUMBER');
    return found.measures;
  };

  test('the same again with the same seed, and turned round', () => {
    const stiff = conditionSet(STIFF, 20, 2);
    expect(compared(good, stiff)).toEqual(compared(good, stiff));
    const turned = answered(compared(stiff, good).coupling.contrast);
    expectNear(turned.value, -answered(compared(good, stiff).coupling.contrast).value, 1e-12);
  });

  test.each([0, 1, 2, 3, 9])('%i swings', (n) => {
    expect(compared(good.slice(0, n)).spread.contrast).toEqual({
      reason: 'too-few',
      need: 10,
      have: n,
    });
    expect(compared(good, good.slice(0, n)).coupling.p).toMatchObject({ reason: 'too-few' });
  });

  test('constant scores, ties, one class empty, no scores', () => {
    const full = good.map((swing) => ({ ...swing, points: 10 }));
    const all = compared(full, full);
    expect(all.score.contrast).toEqual({ reason: 'no-spread' });
    expect(all.score.pHolm).toEqual({ reason: 'no-spread' });
    expect(answered(all.hitRate.contrast).value).toBe(0);
    expect(answered(all.hitRate.p).p).toBe(1);
    expect(all.feedback.contrast).toEqual({ reason: 'too-few', need: 8, have: 0 });
    const none = compared(good.map((swing) => ({ ...swing, points: null })));
    expect(none.score.contrast).toMatchObject({ reason: 'too-few' });
    expect(none.hitRate.smaller).toMatchObject({ reason: 'too-few' });
  });

  test('swings whose court heading is unknown count for all but the angles', () => {
    const stiff = conditionSet(STIFF, 20, 2);
    const turned = stiff.slice(0, 4).map((swing) => {
      // Turned by a right angle about the vertical: x y z become -y x z.
      const directions = swing.directions.map((_, j) =>
        j % 3 === 0 ? -swing.directions[j + 1]! : swing.directions[j - (j % 3 === 1 ? 1 : 0)]!,
      );
      return { ...swing, directions, courtHeadingKnown: false };
    });
    const whole = compared(good, [...turned, ...stiff.slice(4)]);
    const part = compared(good, stiff.slice(4));
    for (const name of ['distalShare', 'coupling', 'manifold'] as const)
      expect(whole[name].contrast, name).toEqual(part[name].contrast);
    expect(whole.spread).toEqual(compared(good, stiff).spread);
  });

  test('swings all alike, and one with a value missing', () => {
    const alike = Array.from({ length: 20 }, () => good[0]!);
    for (const name of ['spread', 'narrowing', 'distalShare', 'coupling', 'manifold'] as const)
      expect(isUnavailable(compared(alike)[name].contrast), name).toBe(true);
    const random = seededRandom(3);
    const broken = good.map((swing) => ({ ...swing, contactSpeedMS: random.normal(1) + 9 }));
    broken[7] = {
      ...broken[7]!,
      reachCurveM: broken[7]!.reachCurveM.map(() => Number.NaN),
      directions: broken[7]!.directions.map(() => Number.NaN),
      points: Number.NaN,
      contactSpeedMS: Number.NaN,
    };
    for (const measure of Object.values(compared(broken)))
      expect(measure.contrast, measure.name).toEqual({ reason: 'not-finite', index: 7 });
  });
});

test('every measure has a favourable direction or none, with reason and source', () => {
  for (const measure of Object.values(COMPARED)) {
    expect(measure.why).toMatch(/\.$/);
    expect(measure.source.length).toBeGreaterThan(5);
    expect(measure.better === '').toBe(measure.favourable === 'neither');
  }
});

test('coupling speaks for an arm whose elbow moves, not for one that is stiff', () => {
  // when the upper arm is off, the forearm is off by half as much again: both angles and the elbow go together
  const latents = [{ steady: [4, 6, 6] }, { steady: [0, 0.8, 0] }, { steady: [0, 0, 3] }] as const;
  const favoured = (arm: VirtualArm) =>
    compareConditions(
      { smaller: swingsOf({ ...arm, latents }, 30, 3), larger: swingsOf(APART, 30, 4) },
      OPTIONS,
    ).measures.coupling;
  const moving = favoured(DISTAL_COUPLED);
  const stiff = favoured({ ...AT_ELBOW_LIMIT, startDeg: [-150, -190, -182] });
  expect(answered(moving.contrast).low).toBeGreaterThan(0);
  expect(answered(stiff.contrast).low).toBeGreaterThan(0);
  expect([moving.favours, stiff.favours]).toEqual(['smaller', null]);
});
