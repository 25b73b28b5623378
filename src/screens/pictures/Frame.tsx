import type { ComponentChildren } from 'preact';
import { type LegendEntry, LegendRows, legendHeight } from './LegendRows.tsx';
import { linearScale, type Scale, ticksBetween } from './scale.ts';
import { LETTER, TEXT_PX } from './text-size.ts';

/** Pixels a drawing may fill. */
export interface Size {
  readonly width: number;
  readonly height: number;
}

/** One axis of a drawing. */
export interface Axis {
  readonly low: number;
  readonly high: number;
  /** What it counts, and its unit. */
  readonly label: string;
  /** Words at some places; round numbers unless given. */
  readonly ticks?: readonly Tick[];
}

export interface Tick {
  readonly at: number;
  readonly label: string;
}

/** Where data lie in a drawing. */
export interface Plot {
  readonly x: Scale;
  readonly y: Scale;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

interface Props {
  readonly size: Size;
  readonly x: Axis;
  readonly y: Axis;
  readonly legend?: readonly LegendEntry[];
  /** One unit is as long across as it is up. */
  readonly isEqual?: boolean;
  readonly children: (plot: Plot) => ComponentChildren;
}

/** In a box too small for its legend a drawing stays a drawing, though a tiny one. */
const LEAST_PX = 20;
const TICK_ROOM_PX = 20;
const LABEL_ROOM_PX = 20;
/** The label of y keeps clear of the topmost number. */
const TOP_ROOM_PX = 28;

/** Axes with units, a light grid, and a legend above; what is drawn between them comes from `children`. */
export function Frame({ size, x, y, legend = [], isEqual = false, children }: Props) {
  const most = {
    x: Math.max(2, Math.floor(size.width / 90)),
    y: Math.max(2, Math.floor(size.height / 60)),
  };
  const widest = Math.max(0, ...ticksOf(y, most.y).map(({ label }) => label.length));
  const left = Math.ceil(widest * LETTER * TEXT_PX) + 8;
  const top = TOP_ROOM_PX + legendHeight(legend, size.width);
  const edges = {
    left,
    top,
    right: Math.max(left + LEAST_PX, size.width - 14),
    bottom: Math.max(top + LEAST_PX, size.height - TICK_ROOM_PX - LABEL_ROOM_PX),
  };
  const [across, up] = isEqual ? equalAxes(x, y, edges) : [x, y];
  const plot: Plot = {
    ...edges,
    x: linearScale([across.low, across.high], [edges.left, edges.right]),
    y: linearScale([up.low, up.high], [edges.bottom, edges.top]),
  };
  const [xTicks, yTicks] = [ticksOf(across, most.x), ticksOf(up, most.y)];
  return (
    <g font-size={TEXT_PX} fill="var(--ink-soft)" stroke="none">
      <LegendRows entries={legend} width={size.width} />
      <text x={0} y={plot.top - 14} font-weight="600">
        {y.label}
      </text>
      {yTicks.map(({ at, label }) => (
        <g key={at}>
          <line
            x1={plot.left}
            x2={plot.right}
            y1={plot.y(at)}
            y2={plot.y(at)}
            stroke="var(--line)"
            stroke-width={at === 0 ? 1.6 : 0.8}
          />
          <text x={plot.left - 6} y={plot.y(at) + TEXT_PX * 0.35} text-anchor="end">
            {label}
          </text>
        </g>
      ))}
      {xTicks.map(({ at, label }) => (
        <text
          key={at}
          x={plot.x(at)}
          y={plot.bottom + 16}
          text-anchor={anchorAt(plot.x(at), label, size.width)}
        >
          {label}
        </text>
      ))}
      <line
        x1={plot.left}
        x2={plot.right}
        y1={plot.bottom}
        y2={plot.bottom}
        stroke="var(--ink-soft)"
        stroke-width={1.2}
      />
      <text x={plot.right} y={plot.bottom + 35} text-anchor="end" font-weight="600">
        {x.label}
      </text>
      {children(plot)}
    </g>
  );
}

function ticksOf({ low, high, ticks }: Axis, atMost: number): readonly Tick[] {
  return ticks ?? ticksBetween(low, high, atMost).map((at) => ({ at, label: plainNumber(at) }));
}

/** With a true minus sign. */
function plainNumber(value: number): string {
  return String(value).replace('-', '−');
}

/** A label at the edge of the drawing is drawn towards its middle. */
function anchorAt(at: number, label: string, width: number): 'start' | 'middle' | 'end' {
  const half = (label.length * LETTER * TEXT_PX) / 2;
  if (at + half > width) return 'end';
  return at - half < 0 ? 'start' : 'middle';
}

type Edges = Pick<Plot, 'left' | 'right' | 'top' | 'bottom'>;

/** The axis with room to spare shows more, so that a unit is as long on both. */
function equalAxes(x: Axis, y: Axis, { left, right, top, bottom }: Edges): [Axis, Axis] {
  const [width, height] = [right - left, bottom - top];
  const perPx = Math.max((x.high - x.low) / width, (y.high - y.low) / height);
  return [widened(x, perPx * width), widened(y, perPx * height)];
}

function widened(axis: Axis, span: number): Axis {
  const spare = (span - (axis.high - axis.low)) / 2;
  return { ...axis, low: axis.low - spare, high: axis.high + spare };
}
