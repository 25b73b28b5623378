import { MEASURES } from '../../core/measures/thresholds.ts';
import { isUnavailable } from '../../core/statistics/estimate.ts';
import type { PictureSpec, PictureView } from '../pictures/picture-spec.ts';
import { estimateCells } from '../pictures/read-set.ts';
import { type SpreadRow, SpreadRows, spreadRow } from '../pictures/SpreadRows.tsx';
import { LETTERS, type Letter } from './comparable.ts';
import type { DrawnPair } from './drawn-pair.ts';
import { LETTER_LOOKS } from './letter-looks.ts';
import { offMeanAxis, offMeanCm } from './off-mean.ts';

/** Reach on accurate and on other balls, one row for each side and kind. */
export function bothSpreads(pair: DrawnPair): PictureSpec {
  const rows = rowsOf(pair);
  return {
    id: 'both-spreads',
    title: 'Accurate and other balls',
    words:
      rows.length === 0
        ? 'Nothing to draw: no ball here has points that can be compared.'
        : LETTERS.map((letter) => sideWords(letter, pair.sides[letter].name, rows)).join(' '),
    explanation:
      'Each mark is a ball, in one row for each side and kind of ball. The bar below a row runs one standard deviation to either side of its mean: about two thirds of the balls lie within it. Where reach is steady on accurate balls and spread on the others, the player can feel what went wrong.',
    source: 'Standard deviations; accurate: full points.',
    views: rows.length === 0 ? [] : [view(rows, pair)],
  };
}

/** One row of the drawing. */
interface Row extends SpreadRow {
  readonly letter: Letter;
  readonly isAccurate: boolean;
}

function rowsOf({ sides, accurateFrom }: DrawnPair): Row[] {
  return LETTERS.flatMap((letter) =>
    [true, false].map((isAccurate) => {
      const values = offMeanCm(sides[letter]).filter((_, i) => {
        const points = sides[letter].points[i]!;
        return points !== null && points >= accurateFrom === isAccurate;
      });
      const label = `${letter}, ${isAccurate ? 'accurate' : 'other'}`;
      const look = LETTER_LOOKS[letter];
      return { letter, isAccurate, ...spreadRow({ label, values, look, isHollow: !isAccurate }) };
    }),
  ).filter(({ values }) => values.length > 0);
}

function sideWords(letter: Letter, name: string, rows: readonly Row[]): string {
  const said = rows
    .filter((row) => row.letter === letter)
    .map(({ values, isAccurate, spread }) => {
      const balls = `${values.length} ${isAccurate ? 'accurate' : 'other'} ${values.length === 1 ? 'ball' : 'balls'}`;
      // Of fewer the comparison says nothing either.
      const isFew = values.length < MEASURES.feedback.limits.minimumN;
      return isFew || isUnavailable(spread)
        ? balls
        : `${balls} spread by ${spread.value.toFixed(1)} cm`;
    });
  return said.length === 0 ? `${name}: no scored ball.` : `${name}: ${said.join(', ')}.`;
}

function view(rows: readonly Row[], { sides }: DrawnPair): PictureView {
  const across = offMeanAxis(rows.flatMap(({ values }) => [...values]));
  return {
    label: 'reach by kind of ball',
    aspect: 0.35 + 0.12 * rows.length,
    alternative: 'Reach of each ball off the average of its side, accurate and other balls apart.',
    draw: (size) => (
      <SpreadRows
        size={size}
        x={across}
        yLabel={LETTERS.map((letter) => sides[letter].name).join('; ')}
        rows={rows}
      />
    ),
    table: {
      columns: [
        { name: 'Balls', digits: 0 },
        { name: 'Number', digits: 0 },
        { name: 'Spread (SD), cm', digits: 2 },
        { name: 'Spread, 95 % from, cm', digits: 2 },
        { name: 'Spread, 95 % to, cm', digits: 2 },
      ],
      rows: rows.map(({ label, values, spread }) => [
        label,
        values.length,
        ...estimateCells(spread),
      ]),
    },
  };
}
