import { IMPLEMENTS } from './kit.ts';
import type { Handling, SessionOptions } from './session-types.ts';

/**
 * How the player gets on with the implement in hand: as the session says of it, else as with any implement of its
 * kind. A stiff elbow and large errors with kit too long or heavy for the player, and the reverse with kit that fits,
 * are what studies of scaled kit report; the sizes are invented.
 * Source: design.md section 9, "Comparison and decision"; Sci Rep 10, 2020, doi 10.1038/s41598-020-59475-5.
 * Checked: tests/simulator/handling.test.ts
 */
export function handlingOf({
  implement,
  strategy,
  handling,
}: Pick<SessionOptions, 'implement' | 'strategy' | 'handling'>): Handling {
  const { unsteadiness } = IMPLEMENTS[implement];
  return handling?.[implement] ?? { strategy, unsteadiness, mistiming: 1 };
}

/** @throws RangeError naming the implement whose errors have no size */
export function checkHandling({ handling }: Pick<SessionOptions, 'handling'>): void {
  for (const [name, { unsteadiness, mistiming }] of Object.entries(handling ?? {})) {
    if (!(Math.min(unsteadiness, mistiming) >= 0)) {
      throw new RangeError(
        `unsteadiness and mistiming with '${name}' must be 0 or more, got ${unsteadiness} and ${mistiming}`,
      );
    }
  }
}
