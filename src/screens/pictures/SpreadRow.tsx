import { isUnavailable } from '../../core/statistics/estimate.ts';
import type { variedMean } from '../../core/statistics/mean-interval.ts';
import type { spreadInterval } from '../../core/statistics/spread-interval.ts';
import type { Plot } from './Frame.tsx';
import type { Shape } from './paths.ts';
import { Marks, Whisker } from './shapes.tsx';

interface Props {
  readonly plot: Plot;
  /** Its place up the drawing; rows lie 1 apart. */
  readonly at: number;
  readonly values: Float64Array;
  readonly mean: ReturnType<typeof variedMean>;
  readonly spread: ReturnType<typeof spreadInterval>;
  readonly look: { readonly colour: string; readonly shape: Shape };
  readonly isHollow?: boolean;
}

/** One row of balls, set off a little from each other, and below it a bar of one SD to either side of their mean. */
export function SpreadRow({ plot, at, values, mean, spread, look, isHollow = false }: Props) {
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
