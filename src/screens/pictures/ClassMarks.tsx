import { takeRows } from '../../core/statistics/resampling.ts';
import type { Plot } from './Frame.tsx';
import type { LegendEntry } from './LegendRows.tsx';
import type { groupsByClass } from './read-set.ts';
import { Marks } from './shapes.tsx';

type Groups = ReturnType<typeof groupsByClass>;

interface Props {
  readonly plot: Plot;
  readonly groups: Groups;
  /** Of all swings, in the units of the axes; each group takes its rows. */
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** A mark for each ball, shape and colour by its class of score. */
export function ClassMarks({ plot, groups, x, y }: Props) {
  return (
    <>
      {groups.map(({ look, rows }) => (
        <Marks
          key={look.label}
          plot={plot}
          x={takeRows(x, rows)}
          y={takeRows(y, rows)}
          colour={look.colour}
          shape={look.shape}
        />
      ))}
    </>
  );
}

/** What the marks stand for. */
export function classLegend(groups: Groups): LegendEntry[] {
  return groups.map(({ look: { label, colour, shape } }) => ({ label, colour, kind: shape }));
}
