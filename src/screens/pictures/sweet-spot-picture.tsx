import { sweetPlaceWords } from '../../core/measures/picture-words.ts';
import type { ScoreCurve } from '../../core/measures/sweet-spot.ts';
import type { Condition } from '../../core/recording/set-record.ts';
import { isUnavailable } from '../../core/statistics/estimate.ts';
import { takeRows } from '../../core/statistics/resampling.ts';
import { Frame, type Plot } from './Frame.tsx';
import type { PictureSpec, PictureView } from './picture-spec.ts';
import { CM, conditionOf, countedSwings, groupsByClass, type ReadSet } from './read-set.ts';
import { extentOf, roundRange } from './scale.ts';
import { Band, Curve, Label, Marks, Rule } from './shapes.tsx';

const MARKS_WORDS =
  'Each mark is a scored ball: how far the arm and implement reached, and its points.';
const CURVE_WORDS =
  'The line is the score to expect at each reach, its light band where that lies with 95 % confidence.';
const STRETCH_WORDS =
  'The shaded stretch is the sweet spot: there the expected score is within one point of the best.';
const NO_STRETCH_WORDS =
  'No stretch is shaded: a sweet spot is drawn only when the score is shown to fall off on both sides.';
const TARGET_WORDS =
  'The bracket is the target reach that was planned beforehand, not one found in these balls.';

/** Which reach scores best? */
export function sweetSpotPicture(read: ReadSet): PictureSpec | null {
  const { sweetSpot } = read.measures;
  if (sweetSpot === undefined) return null;
  const { verdict, place, curve } = sweetSpot;
  const hasScores = countedSwings(read).some(({ points }) => points !== null);
  return {
    id: 'sweet-spot',
    title: 'Sweet spot: which reach scores best?',
    words: verdict.words,
    more: place === null ? [] : [sweetPlaceWords(place)],
    explanation: [
      MARKS_WORDS,
      ...(isUnavailable(curve) ? [] : [CURVE_WORDS]),
      place === null ? NO_STRETCH_WORDS : STRETCH_WORDS,
      ...(conditionOf(read).sweetSpotBand === null ? [] : [TARGET_WORDS]),
    ].join(' '),
    source:
      'Local regression (Cleveland & Devlin 1988); highest point with bootstrap interval; rise and fall tested by permutation.',
    views: hasScores ? [scoreView(read, isUnavailable(curve) ? null : curve)] : [],
  };
}

function scoreView(read: ReadSet, curve: ScoreCurve | null): PictureView {
  const swings = countedSwings(read).filter(({ points }) => points !== null);
  const reach = Float64Array.from(swings, ({ swing }) => CM * swing.reachM);
  const points = Float64Array.from(swings, (swing) => swing.points!);
  const [low, high] = extentOf(reach, [0, 1]);
  const across = roundRange(low - 0.5, high + 0.5, 6);
  const most = Math.max(...read.description.scoreSteps, ...points);
  const lowest = Math.min(...points) - 1;
  const ticks = read.description.scoreSteps
    .filter((step) => step >= lowest)
    .map((step) => ({ at: step, label: String(step) }));
  const place = read.measures.sweetSpot?.place ?? null;
  const curveCm = curve?.reachM.map((x) => CM * x) ?? new Float64Array(0);
  const sweet =
    place === null || curve === null
      ? null
      : ([
          CM * (place.fromM ?? curve.reachM[0]!),
          CM * (place.toM ?? curve.reachM.at(-1)!),
        ] as const);
  return {
    label: 'score against reach',
    alternative: `${swings.length} scored balls with reaches from ${low.toFixed(1)} to ${high.toFixed(1)} cm${curve === null ? '' : ', and the score to expect at each reach'}.`,
    draw: (size) => (
      <Frame
        size={size}
        x={{ low: across[0], high: across[1], label: 'Reach at contact, cm' }}
        y={{ low: lowest, high: most + 1.5, label: 'Score, points', ticks }}
        legend={[
          ...groupsByClass(swings, read.description).map(({ look }) => ({
            label: look.label,
            colour: look.colour,
            kind: look.shape,
          })),
          ...(curve === null
            ? []
            : [{ label: 'expected score', colour: '--ink', kind: 'line' } as const]),
        ]}
      >
        {(plot) => (
          <>
            {sweet !== null && (
              <rect
                x={plot.x(sweet[0])}
                width={plot.x(sweet[1]) - plot.x(sweet[0])}
                y={plot.top}
                height={plot.bottom - plot.top}
                fill="var(--in-soft)"
              />
            )}
            {curve !== null && (
              <>
                <Band
                  plot={plot}
                  x={curveCm}
                  low={curve.low}
                  high={curve.high}
                  colour="--floor"
                  opacity={0.5}
                />
                <Curve plot={plot} x={curveCm} y={curve.fit} colour="--ink" />
              </>
            )}
            {groupsByClass(swings, read.description).map(({ look, rows }) => (
              <Marks
                key={look.label}
                plot={plot}
                x={takeRows(reach, rows)}
                y={takeRows(points, rows)}
                colour={look.colour}
                shape={look.shape}
              />
            ))}
            {place !== null && (
              <Rule plot={plot} at={CM * place.bestM.value} colour="--in" label="best" isVertical />
            )}
            <CoachBand plot={plot} band={conditionOf(read).sweetSpotBand} />
          </>
        )}
      </Frame>
    ),
    table: {
      columns: [
        { name: 'Reach, cm', digits: 1 },
        { name: 'Expected score, points', digits: 1 },
        { name: '95 % from, points', digits: 1 },
        { name: '95 % to, points', digits: 1 },
      ],
      rows:
        curve === null
          ? []
          : Array.from(curveCm, (at, i) => [at, curve.fit[i]!, curve.low[i]!, curve.high[i]!]),
    },
  };
}

/** What the coach had hoped for, as a bracket on the axis. */
function CoachBand({
  plot,
  band,
}: {
  readonly plot: Plot;
  readonly band: Condition['sweetSpotBand'];
}) {
  if (band === null) return null;
  const inside = (cm: number) => Math.min(plot.right, Math.max(plot.left, plot.x(cm)));
  const from = inside(CM * (band.reachM - band.halfWidthM));
  const to = inside(CM * (band.reachM + band.halfWidthM));
  if (to - from < 1) return null;
  return (
    <g>
      <path
        d={`M${from} ${plot.bottom - 9}V${plot.bottom - 3}H${to}V${plot.bottom - 9}`}
        fill="none"
        stroke="var(--ink)"
        stroke-width={2}
      />
      <Label x={(from + to) / 2} y={plot.bottom - 12} anchor="middle">
        target reach
      </Label>
    </g>
  );
}
