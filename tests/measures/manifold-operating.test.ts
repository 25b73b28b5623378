import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { manifoldSpread } from '../../src/core/measures/uncontrolled-manifold.ts';
import { answered } from '../statistics/answers.ts';
import { MANIFOLD_PLAYERS, manifoldVerdicts } from './score-simulations.ts';

// 100 sets: the standard error of a rate of 5 % is 2.2 %, of 70 % it is 4.6 %.
const SETS = 100;

describe('elbow and wrist make up for each other', () => {
  const without = [
    'independent, alike',
    'independent, wrist more',
    'independent, elbow more',
    'make it worse',
  ] as const;
  const cases = without.flatMap((player) => [20, 40].map((n) => [player, n] as const));
  test.each(cases)('is said wrongly at most once in twenty: %s, n = %i', (player, n) => {
    const { steadied = 0 } = manifoldVerdicts(MANIFOLD_PLAYERS[player], { n, sets: SETS, seed: n });
    expect(steadied).toBeLessThanOrEqual(5);
  });

  // Lower bounds two standard errors below what 400 sets gave: 88, 99, 38, 70 %.
  test.each([
    ['make up', 20, 81],
    ['make up', 40, 96],
    ['make up, weakly', 20, 28],
    ['make up, weakly', 40, 61],
  ] as const)('is recognised: %s, n = %i', (player, n, least) => {
    const { steadied = 0 } = manifoldVerdicts(MANIFOLD_PLAYERS[player], { n, sets: SETS, seed: n });
    expect(steadied).toBeGreaterThanOrEqual(least);
  });

  test('is not asked of ten swings', () => {
    expect(manifoldVerdicts(MANIFOLD_PLAYERS['make up'], { n: 10, sets: 5, seed: 1 })).toEqual({
      unknown: 100,
    });
  });
});

// 600 sets: the standard error of 95 % is 0.9 %.
test.each([20, 40])('95 %% intervals of n = %i hold the truth 90 to 98 times in 100', (n) => {
  const covered = { vUcm: 0, vOrt: 0, deltaVz: 0, deltaV: 0 };
  const truth = {
    // SDs 1 across; 3 and 2 along.
    vUcm: 13 / 2,
    vOrt: 1,
    deltaVz: Math.log(13 / 2) / 2,
    deltaV: (13 / 2 - 1) / (14 / 3),
  };
  const sets = 600;
  for (let set = 0; set < sets; set++) {
    const random = seededRandom(100 * set + n);
    const columns = [1, 3, 2].map((sd) =>
      Float64Array.from({ length: n }, () => random.normal(sd)),
    );
    const found = manifoldSpread({ columns, jacobianAt: () => [[1, 0, 0]] });
    for (const name of ['vUcm', 'vOrt', 'deltaVz', 'deltaV'] as const) {
      const { low, high } = answered(found[name]);
      if (low <= truth[name] && truth[name] <= high) covered[name] += 100 / sets;
    }
  }
  for (const rate of Object.values(covered)) {
    expect(rate).toBeGreaterThanOrEqual(90);
    expect(rate).toBeLessThanOrEqual(98);
  }
});
