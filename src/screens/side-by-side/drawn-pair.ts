import type { Letter } from './comparable.ts';
import type { ComparedSide } from './worker-words.ts';

/** One side, and its letter with what tells its kit from the other. */
export interface DrawnSide extends ComparedSide {
  readonly name: string;
}

/** Both sides by their letters, as pictures take them. */
export interface DrawnPair {
  readonly sides: Readonly<Record<Letter, DrawnSide>>;
  /** From so many points on a ball is accurate. */
  readonly accurateFrom: number;
}
