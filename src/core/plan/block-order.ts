import { seededRandom } from '../maths/random.ts';
import type { BlockOrder } from '../recording/set-plan.ts';

/** What the order of blocks follows from. */
export interface BlockRounds {
  readonly conditions: number;
  /** How often each condition comes. */
  readonly rounds: number;
  readonly order: BlockOrder;
  /** A random order follows from it; the others do not read it. */
  readonly seed: number | null;
}

/**
 * Order of the blocks of a set. Each condition comes once a round, so that warming up and tiring over the
 * rounds weigh on all of them; within a round the order is
 * - as listed: AB AB,
 * - mirrored: every second round backwards, AB BA AB; with an even number of rounds a steady drift weighs on
 *   all conditions exactly alike,
 * - random: each round shuffled anew (randomised complete blocks).
 * @returns place of the condition of each block, from 0, shape (conditions x rounds)
 * @throws RangeError unless conditions and rounds are whole and at least 1, or when a random order has no seed
 * Source: randomised complete blocks, Fisher 1935, The Design of Experiments; shuffle of Durstenfeld 1964,
 * doi 10.1145/364520.364540 (both from memory).  Checked: tests/plan/block-order.test.ts
 */
export function orderBlocks({ conditions, rounds, order, seed }: BlockRounds): readonly number[] {
  for (const [name, count] of Object.entries({ conditions, rounds })) {
    if (!Number.isInteger(count) || count < 1) {
      throw new RangeError(`${name} must be a whole number of 1 or more, got ${count}`);
    }
  }
  const listed = Array.from({ length: conditions }, (_, i) => i);
  const all = Array.from({ length: rounds }, (_, round) => round);
  if (order === 'as-listed') return all.flatMap(() => listed);
  if (order === 'mirrored') {
    const backwards = listed.toReversed();
    return all.flatMap((round) => (round % 2 === 0 ? listed : backwards));
  }
  if (seed === null) throw new RangeError('a random order needs a seed');
  const random = seededRandom(seed);
  return all.flatMap(() => shuffled(listed, (below) => Math.floor(random.uniform(0, below))));
}

/** @param choose a whole number from 0 to less than its argument, each as likely */
function shuffled(items: readonly number[], choose: (below: number) => number): number[] {
  const shuffle = [...items];
  for (let last = shuffle.length - 1; last > 0; last--) {
    const chosen = choose(last + 1);
    [shuffle[last], shuffle[chosen]] = [shuffle[chosen]!, shuffle[last]!];
  }
  return shuffle;
}
