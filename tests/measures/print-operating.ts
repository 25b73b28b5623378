/**
 * Prints how often the verdicts are right and wrong for every virtual player, in per cent of the sets.
 *   npm run operating -- [sets = 200] [resamples = 400] [funnel | arm | score | coverage | decision]
 * Coverage takes a quarter of an hour, decision half an hour.
 */
import type { GuardName } from '../../src/core/measures/funnel-guards.ts';
import { measureFunnel } from '../../src/core/measures/measure-funnel.ts';
import * as armPlayers from './arm-players.ts';
import { jointOutcomes, shareOutcomes } from './arm-simulations.ts';
import { COVERAGE_CASES, coverageOf } from './coverage-cases.ts';
import { printContrastOperating, printDecisionOperating } from './print-decision-operating.ts';
import {
  FEEDBACK_PLAYERS,
  feedbackVerdicts,
  MANIFOLD_PLAYERS,
  manifoldVerdicts,
  REACH_PLAYERS,
  SPLIT_PLAYERS,
  splitVerdicts,
  sweetSpotVerdicts,
} from './score-simulations.ts';
import { PLAYERS, type VirtualPlayer, virtualSet } from './virtual-players.ts';

const sets = Number(process.argv[2] ?? 200);
const resamples = Number(process.argv[3] ?? 400);
const wanted = process.argv[4];
const SIZES = [10, 20, 40];
/** Classes of balls need more. */
const SCORED_SIZES = [10, 20, 40, 100];

const percent = (share: number) => (100 * share).toFixed(1);
const line = (name: string, n: number, words: string) =>
  console.log(name.padEnd(36), String(n).padStart(3), ' ', words);

/** In brackets the rate with the one guard left out that was hardest to pass, and its name. */
function printFunnel(): void {
  console.log('\nNarrowing is shown');
  for (const [name, player] of Object.entries(PLAYERS))
    for (const n of SIZES) line(name, n, shownRates(player, n));
}

function shownRates(player: VirtualPlayer, n: number): string {
  let shown = 0;
  const alone = new Map<GuardName, number>();
  for (let set = 0; set < sets; set++) {
    const swings = virtualSet(player, n, 1000 * n + set);
    const { verdict } = measureFunnel(swings, { seed: set, resamples });
    if (verdict.isShown) shown++;
    const [only, ...others] = verdict.failing;
    if (only !== undefined && others.length === 0) alone.set(only, (alone.get(only) ?? 0) + 1);
  }
  const [hardest] = [...alone].sort((a, b) => b[1] - a[1]);
  const without =
    hardest === undefined ? '' : ` (${percent((shown + hardest[1]) / sets)} without ${hardest[0]})`;
  return `${percent(shown / sets)}${without}`;
}

function printArm(): void {
  console.log(
    '\nArm: share distal, proximal; hand-over abrupt, gradual; coupled; elbow frozen, moving',
  );
  console.log('     and how often intervals hold the truth: distal share, hand-over, own shares');
  for (const [name, player] of Object.entries(armPlayers))
    for (const n of SIZES) {
      const { rate, covered } = shareOutcomes(player, { n, sets }, resamples);
      const joints = jointOutcomes(player, { n, sets });
      const rates = [
        [rate('share', 'distal'), rate('share', 'proximal')],
        [rate('handOver', 'abrupt'), rate('handOver', 'gradual')],
        [joints('coupling', 'coupled')],
        [joints('elbow', 'frozen'), joints('elbow', 'moving')],
        [covered.distal, covered.handOver, covered.own],
      ];
      line(name, n, rates.map((some) => some.map(percent).join(', ')).join('; '));
    }
}

function printScore(): void {
  for (const [title, players, verdictsOf] of [
    ['Accurate and poor balls vary across each other', SPLIT_PLAYERS, splitVerdicts],
    ['Elbow and wrist make up for each other', MANIFOLD_PLAYERS, manifoldVerdicts],
  ] as const) {
    console.log(`\n${title}`);
    for (const [name, player] of Object.entries(players))
      for (const n of SCORED_SIZES)
        line(name, n, inWords(verdictsOf(player, { n, sets, seed: 1 })));
  }
  console.log('\nSweet spot; of those found, how often the interval holds it');
  for (const [name, player] of Object.entries(REACH_PLAYERS))
    for (const n of SCORED_SIZES) {
      const { verdicts, covered } = sweetSpotVerdicts(player, { n, sets, seed: 1 });
      line(name, n, `${inWords(verdicts)}; ${Number.isNaN(covered) ? 'none' : covered.toFixed(1)}`);
    }
  console.log(
    '\nReach tells accurate from other balls; how often the interval of the SD ratio holds it',
  );
  for (const [name, player] of Object.entries(FEEDBACK_PLAYERS))
    for (const n of SCORED_SIZES) {
      const { verdicts, covered } = feedbackVerdicts(player, { n, sets, seed: 1 });
      line(name, n, `${inWords(verdicts)}; ${Number.isNaN(covered) ? 'none' : covered.toFixed(1)}`);
    }
}

function inWords(verdicts: Readonly<Record<string, number>>): string {
  const answers = Object.entries(verdicts).sort(([a], [b]) => a.localeCompare(b));
  return answers.map(([answer, share]) => `${answer} ${share.toFixed(1)}`).join(', ');
}

function printCoverage(): void {
  console.log('\n95 % intervals that hold the truth; in brackets those wholly above and below it');
  for (const measure of COVERAGE_CASES) {
    const truth = measure.truth();
    const cells = SIZES.map((n) => {
      const { known, held, above, below } = coverageOf(measure, truth, n, sets);
      const rates = `${held.toFixed(1)} (${above.toFixed(1)}, ${below.toFixed(1)})`;
      return `n ${n}: ${known === 0 ? 'not asked' : rates}`;
    });
    console.log(measure.name.padEnd(46), cells.map((cell) => cell.padEnd(24)).join(''));
  }
}

const DECISION_DRAWS = 299;

function printDecision(): void {
  printContrastOperating(sets, DECISION_DRAWS, resamples);
  printDecisionOperating(sets, DECISION_DRAWS, resamples);
}

console.log(`${sets} sets, ${resamples} resamples (199 for score); name, swings, per cent`);
const families = {
  funnel: printFunnel,
  arm: printArm,
  score: printScore,
  coverage: printCoverage,
  decision: printDecision,
};
for (const [family, print] of Object.entries(families))
  if (wanted === undefined || wanted === family) print();
