import type {
  ManifoldThroughSwing,
  SplitSpread,
} from '../../core/measures/manifold-through-swing.ts';
import { MEASURES } from '../../core/measures/thresholds.ts';
import type { ManifoldSpread } from '../../core/measures/uncontrolled-manifold.ts';
import { unknownVerdict } from '../../core/measures/verdict.ts';
import { isUnavailable, type Unavailable } from '../../core/statistics/estimate.ts';
import { Frame } from './Frame.tsx';
import type { PictureSpec, PictureView } from './picture-spec.ts';
import { DEG, estimateCells, type ReadSet } from './read-set.ts';
import { extentOf, roundRange } from './scale.ts';
import { Band, Curve } from './shapes.tsx';
import { SWING_AXIS } from './swing-axis.ts';

/** Do the joints make up for each other, through the swing? */
export function manifoldPicture({ measures }: ReadSet): PictureSpec | null {
  const { manifold, angleN = 0 } = measures;
  if (manifold === undefined) return null;
  return {
    id: 'good-and-bad-spread',
    title: 'Good and bad spread: do the joints make up for each other?',
    words: isUnavailable(manifold)
      ? unknownVerdict(MEASURES.manifold, angleN, manifold).words
      : manifold.verdict.words,
    explanation:
      'Angles may differ from swing to swing in two ways: together, so that reach stays the same (good spread), or so that reach changes (bad spread). When good spread is the wider of the two, the joints make up for each other. The whole arm can turn about the shoulder without changing reach; elbow and wrist are free of that, the three segments are not.',
    source:
      'Uncontrolled manifold (Scholz & Schöner 1999; Latash, Scholz & Schöner 2007), spread per degree of freedom; covariation by permutation (Müller & Sternad 2003).',
    views: isUnavailable(manifold) ? [] : viewsOf(manifold),
  };
}

const CHOICES: readonly {
  readonly label: string;
  readonly of: (at: Pair) => ManifoldSpread | Unavailable;
}[] = [
  { label: 'elbow and wrist', of: ({ joints }) => joints.all },
  { label: 'accurate balls', of: ({ joints }) => joints.byClass.accurate },
  { label: 'poor balls', of: ({ joints }) => joints.byClass.poor },
  { label: 'three segments', of: ({ segments }) => segments.all },
];

type Pair = { readonly joints: SplitSpread; readonly segments: SplitSpread };

function viewsOf({ at }: ManifoldThroughSwing): PictureView[] {
  return CHOICES.flatMap(({ label, of }) => {
    const spreads = at.map((point) => of(point));
    const known = spreads.filter((spread): spread is ManifoldSpread => !isUnavailable(spread));
    return known.length < spreads.length
      ? []
      : [
          viewOf(
            label,
            at.map(({ percent }) => percent),
            known,
          ),
        ];
  });
}

/** Variance per degree of freedom as a spread in degrees. */
const asDegrees = (variance: number) => DEG * Math.sqrt(Math.max(0, variance));

function viewOf(
  label: string,
  percent: readonly number[],
  spreads: readonly ManifoldSpread[],
): PictureView {
  const column = (kind: 'vUcm' | 'vOrt') => {
    const of = (end: 'value' | 'low' | 'high') =>
      Float64Array.from(spreads, (spread) => {
        const found = spread[kind];
        return isUnavailable(found) ? Number.NaN : asDegrees(found[end]);
      });
    return { value: of('value'), low: of('low'), high: of('high') };
  };
  const good = column('vUcm');
  const bad = column('vOrt');
  const most = extentOf([...good.value, ...bad.value], [0, 1])[1];
  const top = roundRange(0, 1.25 * most, 4)[1];
  const { n } = spreads[0]!;
  return {
    label,
    alternative: `At contact good spread is ${words(good.value)} and bad spread ${words(bad.value)}. ${n} swings.`,
    draw: (size) => (
      <Frame
        size={size}
        x={SWING_AXIS}
        y={{ low: 0, high: top, label: 'Spread of the angles, degrees' }}
        legend={[
          { label: 'good: reach stays', colour: '--in', kind: 'line' },
          { label: 'bad: reach changes', colour: '--off', kind: 'line', dash: '9 5' },
        ]}
      >
        {(plot) => (
          <>
            <Band
              plot={plot}
              x={percent}
              low={good.low}
              high={good.high}
              colour="--in-soft"
              opacity={0.7}
            />
            <Band
              plot={plot}
              x={percent}
              low={bad.low}
              high={bad.high}
              colour="--off-soft"
              opacity={0.7}
            />
            <Curve plot={plot} x={percent} y={good.value} colour="--in" />
            <Curve plot={plot} x={percent} y={bad.value} colour="--off" dash="9 5" />
          </>
        )}
      </Frame>
    ),
    table: {
      columns: [
        { name: 'Swing time, %', digits: 0 },
        { name: 'Good spread, degrees', digits: 2 },
        { name: 'Good, 95 % from', digits: 2 },
        { name: 'Good, 95 % to', digits: 2 },
        { name: 'Bad spread, degrees', digits: 2 },
        { name: 'Bad, 95 % from', digits: 2 },
        { name: 'Bad, 95 % to', digits: 2 },
        { name: 'Difference (ΔVz)', digits: 2 },
        { name: 'ΔVz, 95 % from', digits: 2 },
        { name: 'ΔVz, 95 % to', digits: 2 },
      ],
      rows: percent.map((at, i) => [
        at,
        good.value[i]!,
        good.low[i]!,
        good.high[i]!,
        bad.value[i]!,
        bad.low[i]!,
        bad.high[i]!,
        ...estimateCells(spreads[i]!.deltaVz),
      ]),
    },
  };
}

function words(column: Float64Array): string {
  const value = column.at(-1)!;
  return Number.isFinite(value) ? `${value.toFixed(1)}°` : 'not known';
}
