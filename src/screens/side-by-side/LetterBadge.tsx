import { marksPath } from '../pictures/paths.ts';
import type { Letter } from './comparable.ts';
import { LETTER_LOOKS } from './letter-looks.ts';

/** The letter of a side and its mark, as the pictures draw it. */
export function LetterBadge({ letter }: { readonly letter: Letter }) {
  const { shape, colour } = LETTER_LOOKS[letter];
  return (
    <span class="side-letter">
      <svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true">
        <path d={marksPath(shape, [8], [8], 13)} fill={`var(${colour})`} />
      </svg>
      {letter}
    </span>
  );
}
