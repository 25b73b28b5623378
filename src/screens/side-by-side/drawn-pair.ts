import type { Letter } from './comparable.ts';
import type { ComparedSide } from './worker-words.ts';

/** Both sides by their letters, as pictures take them. */
export interface DrawnPair {
  readonly sides: Readonly<Record<Letter, ComparedSide>>;
  /** From so many points on a ball is accurate. */
  readonly accurateFrom: number;
}
