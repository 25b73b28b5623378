import type { Funnel } from '../../core/measures/funnel.ts';
import type { FunnelBand } from '../../core/measures/reach-at-contact.ts';
import { isUnavailable } from '../../core/statistics/estimate.ts';
import { Frame, type Size } from './Frame.tsx';
import type { PictureSpec, PictureView } from './picture-spec.ts';
import { CM, type ReadSet } from './read-set.ts';
import { extentOf, roundRange } from './scale.ts';
import { Band, Curve } from './shapes.tsx';
import { SWING_TICKS, SWING_TIME } from './swing-axis.ts';

interface Columns {
  /** Where each row lies on the time axis. */
  readonly time: ArrayLike<number>;
  readonly funnel: Funnel;
  readonly band: FunnelBand | null;
}

/** How far reach spreads from swing to swing, through the swing. */
export function funnelPicture({ view, measures }: ReadSet): PictureSpec | null {
  const measure = measures.funnel;
  if (measure === undefined) return null;
  const { evidence } = measure;
  const percent = {
    time: Float64Array.from(view.funnel.spreadM, (_, i) => i),
    funnel: view.funnel,
    band: evidence?.band ?? null,
  };
  const timed = evidence === null || isUnavailable(evidence.timed) ? null : evidence.timed;
  return {
    id: 'funnel',
    title: 'Funnel: does reach become steadier toward contact?',
    words: measure.verdict.words,
    explanation:
      'The line is how far reach differs from swing to swing (its standard deviation, SD) at each moment of the swing. The light band is where the true value very likely lies (95 % interval). The grey area is what the sensors alone would make it (measurement floor): a line within it says nothing. A line that falls toward contact can also come from lining the swings up at contact, from their timing or from the posture of the arm; the sentence above takes all of that into account.',
    source:
      'Spread: standard deviation over swings. Interval: jackknife of the logarithm (Miller 1968). Tests: Pitman 1939, Morgan 1939.',
    views:
      view.funnel.n < 2
        ? []
        : [
            funnelView(percent, {
              label: 'share of the swing',
              name: SWING_TIME,
              column: 'Swing time, %',
              ticks: SWING_TICKS,
            }),
            ...(timed === null
              ? []
              : [
                  funnelView(
                    {
                      time: timed.table.beforeContactS.map((s) => -1000 * s),
                      funnel: timed.table.funnel,
                      band: timed.band,
                    },
                    {
                      label: 'milliseconds',
                      name: 'Time to contact, ms',
                      column: 'Time to contact, ms',
                    },
                  ),
                ]),
          ],
  };
}

interface TimeAxis {
  readonly label: string;
  readonly name: string;
  readonly column: string;
  readonly ticks?: typeof SWING_TICKS;
}

function funnelView(columns: Columns, axis: TimeAxis): PictureView {
  const { funnel, band, time } = columns;
  const cm = (metres: ArrayLike<number>) => Float64Array.from(metres, (x) => CM * x);
  const [spread, floor] = [cm(funnel.spreadM), cm(funnel.floorM)];
  const ends = band === null ? null : { low: cm(band.lowM), high: cm(band.highM) };
  const [, highest] = extentOf([...spread, ...floor, ...(ends?.high ?? [])], [0, 1]);
  const last = spread.length - 1;
  const at = Array.from(time);
  return {
    label: axis.label,
    alternative: `Spread of reach is ${spread[last]!.toFixed(1)} cm at contact and ${extentOf(spread, [0, 0])[1].toFixed(1)} cm where it is widest; the measurement floor at contact is ${floor[last]!.toFixed(1)} cm. ${funnel.n} swings.`,
    draw: (size: Size) => (
      <Frame
        size={size}
        x={{
          low: at[0]!,
          high: at.at(-1)!,
          label: axis.name,
          ...(axis.ticks ? { ticks: axis.ticks } : {}),
        }}
        y={{ low: 0, high: roundRange(0, highest, 4)[1], label: 'Spread of reach, cm' }}
        legend={[
          { label: 'how far reach differs', colour: '--in', kind: 'line' },
          ...(ends
            ? [{ label: 'very likely range', colour: '--in-soft', kind: 'area' } as const]
            : []),
          { label: 'from the sensors alone', colour: '--floor', kind: 'area' },
        ]}
      >
        {(plot) => (
          <>
            {ends && <Band plot={plot} x={at} low={ends.low} high={ends.high} colour="--in-soft" />}
            <Band
              plot={plot}
              x={at}
              low={new Float64Array(at.length)}
              high={floor}
              colour="--floor"
              opacity={0.8}
            />
            <Curve plot={plot} x={at} y={spread} colour="--in" />
          </>
        )}
      </Frame>
    ),
    table: {
      columns: [
        { name: axis.column, digits: 0 },
        { name: 'Mean reach, cm', digits: 1 },
        { name: 'Spread (SD), cm', digits: 2 },
        { name: 'Spread, 95 % from, cm', digits: 2 },
        { name: 'Spread, 95 % to, cm', digits: 2 },
        { name: 'Sensors alone (floor), cm', digits: 2 },
      ],
      rows: at.map((time, i) => [
        time,
        CM * funnel.meanM[i]!,
        spread[i]!,
        ends?.low[i] ?? null,
        ends?.high[i] ?? null,
        floor[i]!,
      ]),
    },
  };
}
