import { isUnavailable } from '../../core/statistics/estimate.ts';
import { variedMean } from '../../core/statistics/mean-interval.ts';
import { spreadInterval } from '../../core/statistics/spread-interval.ts';
import { type Axis, Frame, type Plot, type Size } from './Frame.tsx';
import type { Shape } from './paths.ts';
import { Marks, Whisker } from './shapes.tsx';

/** Balls of one kind. */
export interface SpreadRow {
  readonly label: string;
  readonly values: Float64Array;
  readonly mean: ReturnType<typeof variedMean>;
  readonly spread: ReturnType<typeof spreadInterval>;
  readonly look: { readonly colour: string; readonly shape: Shape };
  readonly isHollow: boolean;
}

/** A row of some balls with their mean and SD. */
export function spreadRow({
  values,
  ...row
}: Pick<SpreadRow, 'label' | 'values' | 'look' | 'isHollow'>): SpreadRow {
  return { ...row, values, mean: variedMean(values), spread: spreadInterval(values) };
}

interface Props {
  readonly size: Size;
  readonly x: Axis;
  /** What the rows are. */
  readonly yLabel: string;
  /** Topmost first. */
  readonly rows: readonly SpreadRow[];
}

/** Rows of balls, set off a little from each other, and below each a bar of one SD to either side of their mean. */
export function SpreadRows({ size, x, yLabel, rows }: Props) {
  const placed = rows.map((row, i) => ({ ...row, at: rows.length - 1 - i }));
  const y: Axis = { low: -0.6, high: rows.length - 0.5, label: yLabel, ticks: placed };
  return (
    <Frame size={size} x={x} y={y}>
      {(plot) => placed.map((row) => <Row key={row.label} plot={plot} {...row} />)}
    </Frame>
  );
}

function Row({
  plot,
  at,
  values,
  mean,
  spread,
  look,
  isHollow,
}: SpreadRow & { readonly plot: Plot; readonly at: number }) {
  return (
    <g>
      <Marks
        plot={plot}
        x={values}
        y={values.map((_, i) => at + 0.12 * ((i % 3) + 0.4))}
        colour={look.colour}
        shape={look.shape}
        isHollow={isHollow}
      />
      {!isUnavailable(mean) && !isUnavailable(spread) && (
        <Whisker
          plot={plot}
          at={at - 0.22}
          low={mean.value - spread.value}
          high={mean.value + spread.value}
          colour={look.colour}
        />
      )}
    </g>
  );
}
