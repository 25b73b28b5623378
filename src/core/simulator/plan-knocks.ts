import type { Random } from '../maths/random.ts';
import type { Knock } from './knock.ts';
import type { PlannedMovement } from './virtual-player.ts';

/**
 * Contacts, now and then the ball bounced on the strings while the player waits, and all that interludes bring.
 * @returns in order of time
 */
export function planKnocks(
  { swings, interludes }: Pick<PlannedMovement, 'swings' | 'interludes'>,
  random: Random,
): Knock[] {
  const knocks: Knock[] = [];
  for (const { contactS } of swings) {
    if (random.uniform(0, 1) < 0.3) {
      for (let bounce = 0; bounce < 2; bounce++) {
        knocks.push({
          atS: contactS - 1.8 + 0.5 * bounce,
          strength: random.uniform(0.15, 0.5),
          isLoose: false,
        });
      }
    }
    knocks.push({ atS: contactS, strength: random.uniform(0.6, 1.2), isLoose: false });
  }
  knocks.push(...interludes.flatMap((interlude) => interlude.knocks));
  return knocks.sort((a, b) => a.atS - b.atS);
}
