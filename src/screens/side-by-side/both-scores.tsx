import { Frame } from '../pictures/Frame.tsx';
import type { PictureSpec, PictureView } from '../pictures/picture-spec.ts';
import { extentOf } from '../pictures/scale.ts';
import { Marks, Rule } from '../pictures/shapes.tsx';
import { LETTERS } from './comparable.ts';
import type { DrawnPair } from './drawn-pair.ts';
import { LETTER_LOOKS } from './letter-looks.ts';
import { offMeanAxis, offMeanCm } from './off-mean.ts';

/** Reach against points of both sides in one drawing. */
export function bothScores({ sides }: DrawnPair): PictureSpec {
  const counts = LETTERS.map(
    (letter) =>
      `${sides[letter].points.filter((p) => p !== null).length} with ${sides[letter].name}`,
  );
  const hasScores = LETTERS.some((letter) => sides[letter].points.some((p) => p !== null));
  return {
    id: 'both-scores',
    title: 'Reach and score of both',
    words: hasScores
      ? `Scored balls: ${counts.join('; ')}.`
      : 'Nothing to draw: no ball here has points that can be compared.',
    explanation:
      'Each mark is a scored ball: how much longer or shorter the arm and implement reached than on that side’s own average, and its points. Reach itself is not compared, because it shifts with every zeroing and with the length of the implement. Marks high in the middle and lower towards the edges mean that the score depends on reach.',
    source: 'Points as the coach gave them; reach at contact read with hindsight.',
    views: hasScores ? [view(sides)] : [],
  };
}

function view(sides: DrawnPair['sides']): PictureView {
  const drawn = LETTERS.map((letter, i) => {
    const { name, points } = sides[letter];
    const reach = offMeanCm(sides[letter]);
    const scored = points.flatMap((p, row) => (p === null ? [] : [{ p, x: reach[row]! }]));
    // Side by side where both have the same points.
    const shift = i === 0 ? 0.17 : -0.17;
    return { letter, name, look: LETTER_LOOKS[letter], scored, shift };
  });
  const all = drawn.flatMap(({ scored }) => scored);
  const across = offMeanAxis(all.map(({ x }) => x));
  const [least, most] = extentOf(
    all.map(({ p }) => p),
    [0, 1],
  );
  const steps = [...new Set(all.map(({ p }) => p))].sort((a, b) => a - b);
  return {
    label: 'score against reach',
    alternative: 'Points of each ball against how far reach was off the average of its side.',
    draw: (size) => (
      <Frame
        size={size}
        x={across}
        y={{
          low: least - 1,
          high: most + 1,
          label: 'Score, points',
          ticks: steps.map((at) => ({ at, label: String(at) })),
        }}
        legend={drawn.map(({ name, look }) => ({
          label: name,
          colour: look.colour,
          kind: look.shape,
        }))}
      >
        {(plot) => (
          <>
            <Rule plot={plot} at={0} colour="--ink-soft" label="average" isVertical isLabelLow />
            {drawn.map(({ letter, look, scored, shift }) => (
              <Marks
                key={letter}
                plot={plot}
                x={scored.map(({ x }) => x)}
                y={scored.map(({ p }) => p + shift)}
                colour={look.colour}
                shape={look.shape}
              />
            ))}
          </>
        )}
      </Frame>
    ),
    table: {
      columns: [
        { name: 'Side', digits: 0 },
        { name: 'Reach off its own average, cm', digits: 2 },
        { name: 'Score, points', digits: 0 },
      ],
      rows: drawn.flatMap(({ name, scored }) => scored.map(({ x, p }) => [name, x, p])),
    },
  };
}
