import { expect, test } from 'vitest';
import { decisionRates, PAIRS } from './decision-simulations.ts';

// 10 pairs of each kind, so that two wrong decisions among all are 5 %. print-decision-operating.ts gives the whole
// table from 200 pairs.
const EXPERIMENT = { n: 20, pairs: 10, seed: 40_000, followed: 2, draws: 199, resamples: 100 };

// Least share of right decisions: what 200 pairs gave less three standard errors of 10.
const LEAST_RIGHT: Partial<Record<keyof typeof PAIRS, number>> = {
  'smaller better, clearly': 65,
  'larger better, clearly': 65,
};

test('decisions are hardly ever wrong, and come when the difference is clear', {
  timeout: 60_000,
}, () => {
  let wrong = 0;
  const names = [
    'smaller better, clearly',
    'larger better, clearly',
    'smaller better in score alone',
    'equal, good',
  ] as const;
  for (const name of names) {
    const rates = decisionRates(PAIRS[name], EXPERIMENT);
    wrong += rates.wrong / names.length;
    expect(rates.right, name).toBeGreaterThanOrEqual(LEAST_RIGHT[name] ?? 0);
    if (name === 'smaller better in score alone' && rates.asked > 0)
      expect(rates.settled, name).toBeGreaterThanOrEqual(50);
  }
  expect(wrong).toBeLessThanOrEqual(5);
});
