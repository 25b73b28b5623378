import type { Drift, DriftSubject } from '../../core/measures/order-effects.ts';
import type { ScoredSwing } from '../../core/pipeline/outputs.ts';
import { isUnavailable } from '../../core/statistics/estimate.ts';
import { checkedMean } from '../../core/statistics/moments.ts';
import { ClassMarks, classLegend } from './ClassMarks.tsx';
import { Frame } from './Frame.tsx';
import type { PictureSpec, PictureView } from './picture-spec.ts';
import { CM, countedSwings, groupsByClass, type ReadSet } from './read-set.ts';
import { extentOf, roundRange } from './scale.ts';
import { Curve } from './shapes.tsx';

interface Subject {
  readonly key: DriftSubject;
  readonly label: string;
  readonly axis: string;
  readonly unit: string;
  readonly scale: number;
  readonly of: (swing: ScoredSwing) => number | null;
}

const SUBJECTS: readonly Subject[] = [
  {
    key: 'reach',
    label: 'reach',
    axis: 'Reach at contact, cm',
    unit: 'cm',
    scale: CM,
    of: ({ swing }) => swing.reachM,
  },
  {
    key: 'speed',
    label: 'speed',
    axis: 'Speed of the sweet spot at contact, m/s',
    unit: 'm/s',
    scale: 1,
    of: ({ swing }) => swing.sweetSpotSpeedMS,
  },
  {
    key: 'score',
    label: 'score',
    axis: 'Score, points',
    unit: 'points',
    scale: 1,
    of: ({ points }) => points,
  },
];

/** Does anything drift as the set goes on? */
export function orderPicture(read: ReadSet): PictureSpec | null {
  const { order } = read.measures;
  if (order === undefined) return null;
  return {
    id: 'order',
    title: 'Order: does anything drift as the set goes on?',
    words: order.reach.verdict.words,
    more: [order.speed.verdict.words, order.score.verdict.words],
    explanation:
      'The swings in the order in which they were hit, and a straight line through them. The sentences say whether the line rises or falls more than chance would make it; a change that stops early is seen less well than a steady one.',
    source:
      'Slope against the place in the set, tested by permutation and corrected for three questions (Holm 1979).',
    views: SUBJECTS.flatMap((subject) => viewOf(read, subject, order[subject.key])),
  };
}

function viewOf(read: ReadSet, subject: Subject, drift: Drift): PictureView[] {
  const swings = countedSwings(read).filter((swing) => subject.of(swing) !== null);
  if (swings.length === 0) return [];
  const place = Float64Array.from(swings, ({ swing }) => swing.index + 1);
  const value = Float64Array.from(swings, (swing) => subject.scale * subject.of(swing)!);
  const [low, high] = extentOf(value, [0, 1]);
  const room = Math.max(0.1 * (high - low), 0.2);
  const up = roundRange(low - room, high + room, 4);
  const ends = [place[0]!, place.at(-1)!];
  const line = isUnavailable(drift.perSwing)
    ? null
    : lineThrough(place, value, subject.scale * drift.perSwing.value, ends);
  const groups = groupsByClass(swings, read.description);
  return [
    {
      label: subject.label,
      alternative: isUnavailable(drift.overSet)
        ? `${swings.length} swings in order.`
        : `Change over the set ${(subject.scale * drift.overSet.value).toFixed(1)} ${subject.unit} (${(subject.scale * drift.overSet.low).toFixed(1)} to ${(subject.scale * drift.overSet.high).toFixed(1)}).`,
      draw: (size) => (
        <Frame
          size={size}
          x={{ low: Math.max(0, ends[0]! - 1), high: ends[1]! + 1, label: 'Swing of the set' }}
          y={{ low: up[0], high: up[1], label: subject.axis }}
          legend={classLegend(groups)}
        >
          {(plot) => (
            <>
              {line !== null && (
                <Curve plot={plot} x={ends} y={line} colour="--ink-soft" dash="6 4" />
              )}
              <ClassMarks plot={plot} groups={groups} x={place} y={value} />
            </>
          )}
        </Frame>
      ),
      table: {
        columns: [
          { name: 'Swing', digits: 0 },
          { name: subject.axis, digits: subject.key === 'score' ? 0 : 1 },
        ],
        rows: Array.from(place, (at, i) => [at, value[i]!]),
      },
    },
  ];
}

/** A least-squares line goes through the means. */
function lineThrough(
  x: Float64Array,
  y: Float64Array,
  slope: number,
  at: readonly number[],
): number[] {
  const [meanX, meanY] = [checkedMean(x), checkedMean(y)];
  return at.map((place) => meanY + slope * (place - meanX));
}
