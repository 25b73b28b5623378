import { marksPath } from '../pictures/paths.ts';
import type { Letter } from './comparable.ts';
import { LETTER_LOOKS } from './letter-looks.ts';

/** The letter of a side and its mark, as the pictures draw it. */
export function LetterBadge({
  letter,
  name = letter,
}: {
  readonly letter: Letter;
  /** What the side is called where there is room. */
  readonly name?: string;
}) {
  const { shape, colour } = LETTER_LOOKS[letter];
  return (
    <span class="side-letter">
      <svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true">
        <path d={marksPath(shape, [8], [8], 13)} fill={`var(${colour})`} />
      </svg>
      {letter}
      {name !== letter && <span class="side-name">{name}</span>}
    </span>
  );
}
