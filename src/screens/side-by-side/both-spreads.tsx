import { MEASURES } from '../../core/measures/thresholds.ts';
import { isUnavailable } from '../../core/statistics/estimate.ts';
import { variedMean } from '../../core/statistics/mean-interval.ts';
import { spreadInterval } from '../../core/statistics/spread-interval.ts';
import { Frame } from '../pictures/Frame.tsx';
import type { PictureSpec, PictureView } from '../pictures/picture-spec.ts';
import { estimateCells } from '../pictures/read-set.ts';
import { SpreadRow } from '../pictures/SpreadRow.tsx';
import { LETTERS, type Letter } from './comparable.ts';
import type { DrawnPair } from './drawn-pair.ts';
import { LETTER_LOOKS, type LetterLook } from './letter-looks.ts';
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
        : LETTERS.map((letter) => sideWords(letter, rows)).join(' '),
    explanation:
      'Each mark is a ball, in one row for each side and kind of ball. The bar below a row runs one standard deviation to either side of its mean: about two thirds of the balls lie within it. Where reach is steady on accurate balls and spread on the others, the player can feel what went wrong.',
    source: 'Standard deviations; accurate: full points.',
    views: rows.length === 0 ? [] : [view(rows)],
  };
}

interface Row {
  readonly letter: Letter;
  readonly isAccurate: boolean;
  readonly label: string;
  readonly look: LetterLook;
  readonly at: number;
  readonly values: Float64Array;
}

function rowsOf({ sides, accurateFrom }: DrawnPair): Row[] {
  const found = LETTERS.flatMap((letter) =>
    [true, false].map((isAccurate) => ({
      letter,
      isAccurate,
      label: `${letter}, ${isAccurate ? 'accurate' : 'other'}`,
      look: LETTER_LOOKS[letter],
      values: offMeanCm(sides[letter]).filter((_, i) => {
        const points = sides[letter].points[i]!;
        return points !== null && points >= accurateFrom === isAccurate;
      }),
    })),
  ).filter(({ values }) => values.length > 0);
  return found.map((row, i) => ({ ...row, at: found.length - 1 - i }));
}

function sideWords(letter: Letter, rows: readonly Row[]): string {
  const said = rows
    .filter((row) => row.letter === letter)
    .map(({ values, isAccurate }) => {
      const balls = `${values.length} ${isAccurate ? 'accurate' : 'other'} ${values.length === 1 ? 'ball' : 'balls'}`;
      const spread = spreadInterval(values);
      // Of fewer the comparison says nothing either.
      const isFew = values.length < MEASURES.feedback.limits.minimumN;
      return isFew || isUnavailable(spread)
        ? balls
        : `${balls} spread by ${spread.value.toFixed(1)} cm`;
    });
  return said.length === 0 ? `${letter}: no scored ball.` : `${letter}: ${said.join(', ')}.`;
}

function view(rows: readonly Row[]): PictureView {
  const measured = rows.map((row) => ({
    ...row,
    mean: variedMean(row.values),
    spread: spreadInterval(row.values),
  }));
  const across = offMeanAxis(rows.flatMap(({ values }) => [...values]));
  return {
    label: 'reach by kind of ball',
    aspect: 0.35 + 0.12 * rows.length,
    alternative: 'Reach of each ball off the average of its side, accurate and other balls apart.',
    draw: (size) => (
      <Frame
        size={size}
        x={across}
        y={{
          low: -0.6,
          high: rows.length - 0.5,
          label: 'Balls',
          ticks: rows.map(({ at, label }) => ({ at, label })),
        }}
      >
        {(plot) =>
          measured.map(({ label, look, at, values, isAccurate, mean, spread }) => (
            <SpreadRow
              key={label}
              plot={plot}
              at={at}
              values={values}
              mean={mean}
              spread={spread}
              look={look}
              isHollow={!isAccurate}
            />
          ))
        }
      </Frame>
    ),
    table: {
      columns: [
        { name: 'Balls', digits: 0 },
        { name: 'Number', digits: 0 },
        { name: 'Spread (SD), cm', digits: 2 },
        { name: 'Spread, 95 % from, cm', digits: 2 },
        { name: 'Spread, 95 % to, cm', digits: 2 },
      ],
      rows: measured.map(({ label, values, spread }) => [
        label,
        values.length,
        ...estimateCells(spread),
      ]),
    },
  };
}
