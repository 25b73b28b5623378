import { describe, expect, test } from 'vitest';
import { FEEDBACK_PLAYERS, feedbackVerdicts } from './score-simulations.ts';

// 150 sets: the standard error of 5 or 95 % is 1.8 %, of 73 % it is 3.6 %.
const SETS = 150;

describe('reach is steadier on accurate balls', () => {
  // 1000 sets gave 1.5 and 3.5 %.
  test.each([20, 40])('is said wrongly at most once in twenty, n = %i', (n) => {
    const player = FEEDBACK_PLAYERS['full size: spread on all'];
    const { verdicts } = feedbackVerdicts(player, { n, sets: SETS, seed: 3 });
    expect((verdicts.distinct ?? 0) + (verdicts.reversed ?? 0)).toBeLessThanOrEqual(5);
  });

  // Lower bounds two standard errors below what 1000 sets gave: 54 (30 of 100 unknown), 99.5, 73 %.
  test.each([
    ['scaled: steady on accurate balls', 20, 46],
    ['scaled: steady on accurate balls', 40, 97],
    ['scaled, less clear', 40, 66],
  ] as const)('is recognised: %s, n = %i', (player, n, least) => {
    const found = feedbackVerdicts(FEEDBACK_PLAYERS[player], { n, sets: SETS, seed: n });
    expect(found.verdicts.distinct).toBeGreaterThanOrEqual(least);
    // 95 % intervals of the ratio of SDs.
    expect(found.covered).toBeGreaterThanOrEqual(90);
    expect(found.covered).toBeLessThanOrEqual(98);
  });
});
