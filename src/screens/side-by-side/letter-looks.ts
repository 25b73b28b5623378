import type { Shape } from '../pictures/paths.ts';
import type { Letter } from './comparable.ts';

/** How a side is drawn: shape and line first, colour repeats them. */
export interface LetterLook {
  readonly shape: Shape;
  readonly colour: string;
  readonly soft: string;
  readonly dash: string | undefined;
}

export const LETTER_LOOKS: Readonly<Record<Letter, LetterLook>> = {
  A: { shape: 'circle', colour: '--in', soft: '--in-soft', dash: undefined },
  B: { shape: 'diamond', colour: '--off', soft: '--off-soft', dash: '9 5' },
};
