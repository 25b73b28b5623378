/**
 * How often each decision on two conditions is right and wrong, how often the number of swings asked for settles
 * it, and how well the intervals and p values of the comparison hold their level: for print-operating.ts.
 */
import { compareCoupling, compareDistalShare } from '../../src/core/measures/comparison-arm.ts';
import { compareManifold } from '../../src/core/measures/comparison-manifold.ts';
import { compareNarrowing } from '../../src/core/measures/comparison-narrowing.ts';
import { compareFeedback, compareSpread } from '../../src/core/measures/comparison-reach.ts';
import {
  compareHitRate,
  compareScore,
  compareSpeed,
} from '../../src/core/measures/comparison-score.ts';
import { contrastRates, decisionRates, PAIRS } from './decision-simulations.ts';

const CONTRASTS = {
  compareScore,
  compareHitRate,
  compareSpeed,
  compareSpread,
  compareFeedback,
  compareNarrowing,
  compareDistalShare,
  compareCoupling,
  compareManifold,
};

const cell = (x: number) => x.toFixed(1).padStart(6);

export function printDecisionOperating(pairs: number, draws: number, resamples: number): void {
  console.log(
    `\nDecision on two conditions, per cent of ${pairs} pairs; n swings of each condition`,
  );
  console.log(
    'of those not enough: how many get a number, its median, how often it settles it, and rightly',
  );
  for (const [name, pair] of Object.entries(PAIRS))
    for (const n of [10, 20, 40]) {
      const r = decisionRates(pair, { n, pairs, seed: 1000 * n, draws, resamples });
      console.log(
        `${name.padEnd(34)} n ${n}  right ${cell(r.right)} wrong ${cell(r.wrong)} not enough ${cell(r.notEnough)}` +
          `  (${cell(r.asked)}, ${String(r.medianMore).padStart(3)} more,${cell(r.settled)},${cell(r.settledRight)})`,
      );
    }
}

export function printContrastOperating(pairs: number, draws: number, resamples: number): void {
  console.log(
    `\nIntervals that hold the truth and p up to 5 %, per cent of ${pairs} pairs; n = 20, 40`,
  );
  for (const name of ['equal, good', 'equal, stiff', 'smaller better, clearly'] as const)
    for (const [measure, compare] of Object.entries(CONTRASTS)) {
      const rates = [20, 40].map((n) =>
        contrastRates(compare, PAIRS[name], { n, pairs, seed: 900 * n, draws, resamples }),
      );
      const cells = rates.map((r) => `held ${cell(r.held)} small p ${cell(r.small)} of ${r.known}`);
      console.log(
        name.padEnd(26),
        measure.padEnd(20),
        `truth ${rates[0]!.truth.toFixed(2).padStart(6)} `,
        cells.join('   '),
      );
    }
}
