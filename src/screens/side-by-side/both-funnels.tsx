import { COMPARISON } from '../../core/measures/comparison-words.ts';
import { Frame } from '../pictures/Frame.tsx';
import type { LegendEntry } from '../pictures/LegendRows.tsx';
import type { PictureSpec, PictureView } from '../pictures/picture-spec.ts';
import { CM } from '../pictures/read-set.ts';
import { extentOf, roundRange } from '../pictures/scale.ts';
import { Band, Curve } from '../pictures/shapes.tsx';
import { SWING_AXIS } from '../pictures/swing-axis.ts';
import { LETTERS } from './comparable.ts';
import type { DrawnPair, DrawnSide } from './drawn-pair.ts';
import { LETTER_LOOKS } from './letter-looks.ts';

/** Funnels and floors of both sides in one drawing. */
export function bothFunnels({ sides }: DrawnPair): PictureSpec {
  const lacking = LETTERS.filter((letter) => sides[letter].funnel.n < 2);
  return {
    id: 'both-funnels',
    title: 'Both funnels: how reach spreads through the swing',
    words:
      lacking.length > 0
        ? `Nothing to draw: at least 2 swings with ${lacking.map((letter) => sides[letter].name).join(' and ')} are needed.`
        : LETTERS.map((letter) => spreadWords(sides[letter])).join(' '),
    explanation:
      'Each line is how far reach differs from swing to swing (its standard deviation) at each moment of the swing, with the band in which the true value lies with 95 % confidence. The grey areas are what the sensors alone would make it: a line within its own says nothing. Where the two bands overlap, a difference between the lines may be chance.',
    source:
      'Spread: standard deviation over swings. Interval: jackknife of the logarithm (Miller 1968).',
    views: lacking.length > 0 ? [] : [view(sides)],
  };
}

function spreadWords({ name, funnel }: DrawnSide): string {
  const widest = Math.max(...funnel.spreadM);
  if (funnel.n < COMPARISON.limits.minimumN)
    return `${name}: ${funnel.n} swings, of which a funnel says little; ${COMPARISON.limits.minimumN} at least are needed.`;
  return `${name}: ${cm(funnel.spreadM.at(-1)!)} cm at contact, ${cm(widest)} cm at its widest, ${funnel.n} swings.`;
}

function cm(metres: number): string {
  return (CM * metres).toFixed(1);
}

function view(sides: DrawnPair['sides']): PictureView {
  const inCm = (metres: Float64Array) => metres.map((x) => CM * x);
  const drawn = LETTERS.map((letter) => {
    const { name, funnel, band } = sides[letter];
    return {
      letter,
      name,
      look: LETTER_LOOKS[letter],
      spread: inCm(funnel.spreadM),
      floor: inCm(funnel.floorM),
      low: inCm(band.lowM),
      high: inCm(band.highM),
    };
  });
  const at = Array.from(drawn[0]!.spread, (_, i) => i);
  const [, line] = extentOf(
    drawn.flatMap(({ spread, floor }) => [...spread, ...floor]),
    [0, 1],
  );
  const [, band] = extentOf(
    drawn.flatMap(({ high }) => [...high]),
    [0, line],
  );
  // The bands of a few swings would press the lines to the ground; they are cut off instead.
  const highest = Math.min(band, 2 * line);
  const legend: LegendEntry[] = [
    ...drawn.map(({ name, look: { colour, dash } }) => ({
      label: name,
      colour,
      kind: 'line' as const,
      ...(dash === undefined ? {} : { dash }),
    })),
    { label: 'measurement floors', colour: '--floor', kind: 'area' },
  ];
  return {
    label: 'share of the swing',
    alternative: 'Spread of reach from start to contact, one line for each side.',
    draw: (size) => (
      <Frame
        size={size}
        x={SWING_AXIS}
        y={{ low: 0, high: roundRange(0, highest, 4)[1], label: 'Spread of reach, cm' }}
        legend={legend}
      >
        {(plot) => (
          <>
            {drawn.map(({ letter, look, low, high }) => (
              <Band
                key={letter}
                plot={plot}
                x={at}
                low={low}
                high={high}
                colour={look.soft}
                opacity={0.7}
              />
            ))}
            {drawn.map(({ letter, floor }) => (
              <Band
                key={letter}
                plot={plot}
                x={at}
                low={new Float64Array(at.length)}
                high={floor}
                colour="--floor"
                opacity={0.5}
              />
            ))}
            {drawn.map(({ letter, look: { colour, dash }, spread }) => (
              <Curve key={letter} plot={plot} x={at} y={spread} colour={colour} dash={dash} />
            ))}
          </>
        )}
      </Frame>
    ),
    table: {
      columns: [
        { name: 'Swing time, %', digits: 0 },
        ...drawn.flatMap(({ name }) => [
          { name: `${name}: spread, cm`, digits: 2 },
          { name: `${name}: 95 % from, cm`, digits: 2 },
          { name: `${name}: 95 % to, cm`, digits: 2 },
          { name: `${name}: floor, cm`, digits: 2 },
        ]),
      ],
      rows: at.map((i) => [
        i,
        ...drawn.flatMap(({ spread, low, high, floor }) => [
          spread[i]!,
          low[i]!,
          high[i]!,
          floor[i]!,
        ]),
      ]),
    },
  };
}
