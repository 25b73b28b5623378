/**
 * Prints how often the verdict of the funnel is right and wrong for every virtual player.
 *   npx tsx tests/measures/print-operating.ts [sets = 400] [resamples = 400]
 * Per number of swings: share of sets in which narrowing is shown; in brackets the same with the one guard left
 * out that was hardest to pass, and its name.
 */
import type { GuardName } from '../../src/core/measures/funnel-guards.ts';
import { measureFunnel } from '../../src/core/measures/measure-funnel.ts';
import { PLAYERS, type VirtualPlayer, virtualSet } from './virtual-players.ts';

const sets = Number(process.argv[2] ?? 400);
const resamples = Number(process.argv[3] ?? 400);

function rates(player: VirtualPlayer, n: number): string {
  let shown = 0;
  const alone = new Map<GuardName, number>();
  for (let set = 0; set < sets; set++) {
    const { verdict } = measureFunnel(virtualSet(player, n, 1000 * n + set), {
      seed: set,
      resamples,
    });
    if (verdict.isShown) shown++;
    const [only, ...others] = verdict.failing;
    if (only !== undefined && others.length === 0) alone.set(only, (alone.get(only) ?? 0) + 1);
  }
  const percent = (count: number) => `${((100 * count) / sets).toFixed(1)} %`;
  const [hardest] = [...alone].sort((a, b) => b[1] - a[1]);
  const without =
    hardest === undefined ? '' : ` (${percent(shown + hardest[1])} without ${hardest[0]})`;
  return `${percent(shown)}${without}`;
}

console.log(`Narrowing shown, ${sets} sets, ${resamples} resamples; n = 10, 20, 40`);
for (const [name, player] of Object.entries(PLAYERS))
  console.log([name.padEnd(32), ...[10, 20, 40].map((n) => rates(player, n).padEnd(34))].join(''));
