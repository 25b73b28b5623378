import type { CorrelationCurve, Coupling } from '../../core/measures/coupling.ts';
import type { Freezing } from '../../core/measures/freezing.ts';
import { MEASURES } from '../../core/measures/thresholds.ts';
import { type Estimate, isUnavailable } from '../../core/statistics/estimate.ts';
import { Frame } from './Frame.tsx';
import type { PictureSpec, PictureView } from './picture-spec.ts';
import { DEG, estimateCells, type ReadSet } from './read-set.ts';
import { roundRange } from './scale.ts';
import { Band, Curve, Marks, Rule, Whisker } from './shapes.tsx';
import { SWING_AXIS } from './swing-axis.ts';

/** Do the parts of the arm work together, and is one joint held still? */
export function couplingPicture({ measures }: ReadSet): PictureSpec | null {
  const { arm } = measures;
  if (arm === undefined) return null;
  const { coupling, freezing, verdicts } = arm;
  return {
    id: 'coupling',
    title: 'Working together: do the parts of the arm vary as one?',
    words: verdicts.coupling.words,
    more: [verdicts.elbow.words],
    explanation: `At each moment: in swings where one segment points farther than usual, does its neighbour too? 1 is always, −1 is always the other way, 0 is not at all. Turning the whole arm moves both and lifts the lines by itself; the sentence above takes that into account. The view “movement” shows how far elbow and wrist move in a swing: below ${MEASURES.freezing.limits.frozenBelowDeg}° the elbow counts as held still.`,
    source:
      'Correlation of the angles in the swing plane over swings, Fisher’s interval (Fisher 1921); mean excursion with Student’s interval.',
    views: [
      ...(isUnavailable(coupling) ? [] : [togetherView(coupling)]),
      ...(isUnavailable(freezing) ? [] : excursionViews(freezing)),
    ],
  };
}

const PAIRS = [
  {
    key: 'upperArmForearm',
    label: 'upper arm and forearm',
    colour: '--in',
    soft: '--in-soft',
    dash: undefined,
  },
  {
    key: 'forearmImplement',
    label: 'forearm and implement',
    colour: '--off',
    soft: '--off-soft',
    dash: '9 5',
  },
] as const;

function togetherView(coupling: Coupling): PictureView {
  const curves = PAIRS.map((pair) => ({ ...pair, ...columnsOf(coupling[pair.key]) }));
  const percent = Array.from(coupling.upperArmForearm, (_, i) => i);
  return {
    label: 'together',
    alternative: curves
      .map(({ label, value }) => `At contact ${label}: ${numberWords(value.at(-1)!)}.`)
      .join(' '),
    draw: (size) => (
      <Frame
        size={size}
        x={SWING_AXIS}
        y={{ low: -1, high: 1, label: 'Varying together, from −1 to 1' }}
        legend={PAIRS.map(({ label, colour, dash }) => ({
          label,
          colour,
          kind: 'line',
          ...(dash ? { dash } : {}),
        }))}
      >
        {(plot) => (
          <>
            {curves.map(({ key, low, high, soft }) => (
              <Band
                key={key}
                plot={plot}
                x={percent}
                low={low}
                high={high}
                colour={soft}
                opacity={0.7}
              />
            ))}
            {curves.map(({ key, value, colour, dash }) => (
              <Curve key={key} plot={plot} x={percent} y={value} colour={colour} dash={dash} />
            ))}
          </>
        )}
      </Frame>
    ),
    table: {
      columns: [
        { name: 'Swing time, %', digits: 0 },
        ...PAIRS.flatMap(({ label }) => [
          { name: `${label} (r)`, digits: 2 },
          { name: `${label}, 95 % from`, digits: 2 },
          { name: `${label}, 95 % to`, digits: 2 },
        ]),
      ],
      rows: percent.map((at) => [
        at,
        ...PAIRS.flatMap(({ key }) => estimateCells(coupling[key][at])),
      ]),
    },
  };
}

function excursionViews({ elbowExcursionRad, wristExcursionRad }: Freezing): PictureView[] {
  const joints = [
    { label: 'elbow', excursion: elbowExcursionRad },
    { label: 'wrist', excursion: wristExcursionRad },
  ].flatMap(({ label, excursion }) => (isUnavailable(excursion) ? [] : [{ label, excursion }]));
  if (joints.length === 0) return [];
  const limitDeg = MEASURES.freezing.limits.frozenBelowDeg;
  const most = Math.max(limitDeg, ...joints.map(({ excursion }) => DEG * excursion.high));
  const degrees = ({ value, low, high }: Estimate) =>
    `${(DEG * value).toFixed(0)}° (${(DEG * low).toFixed(0)} to ${(DEG * high).toFixed(0)})`;
  return [
    {
      label: 'movement',
      alternative: joints
        .map(({ label, excursion }) => `${label} ${degrees(excursion)}`)
        .join(', '),
      aspect: 0.45,
      draw: (size) => (
        <Frame
          size={size}
          x={{ low: 0, high: roundRange(0, most, 5)[1], label: 'Movement in a swing, degrees' }}
          y={{
            low: -0.6,
            high: joints.length - 0.4,
            label: '',
            ticks: joints.map(({ label }, i) => ({ at: joints.length - 1 - i, label })),
          }}
        >
          {(plot) => (
            <>
              <Rule
                plot={plot}
                at={limitDeg}
                colour="--ink-soft"
                label="held still below"
                isVertical
              />
              {joints.map(({ label, excursion }, i) => {
                const at = joints.length - 1 - i;
                return (
                  <g key={label}>
                    <Whisker
                      plot={plot}
                      at={at}
                      low={DEG * excursion.low}
                      high={DEG * excursion.high}
                      colour="--in"
                    />
                    <Marks
                      plot={plot}
                      x={[DEG * excursion.value]}
                      y={[at]}
                      colour="--in"
                      shape="circle"
                      sizePx={13}
                    />
                  </g>
                );
              })}
            </>
          )}
        </Frame>
      ),
      table: {
        columns: [
          { name: 'Joint', digits: 0 },
          { name: 'Mean movement, degrees', digits: 1 },
          { name: '95 % from, degrees', digits: 1 },
          { name: '95 % to, degrees', digits: 1 },
        ],
        rows: joints.map(({ label, excursion }) => [label, ...estimateCells(excursion, DEG)]),
      },
    },
  ];
}

function columnsOf(curve: CorrelationCurve) {
  const of = (end: 'value' | 'low' | 'high') =>
    Float64Array.from(curve, (at) => (isUnavailable(at) ? Number.NaN : at[end]));
  return { value: of('value'), low: of('low'), high: of('high') };
}

function numberWords(value: number): string {
  return Number.isFinite(value) ? value.toFixed(2) : 'not known';
}
