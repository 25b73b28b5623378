import type { ComponentChildren } from 'preact';
import type { Plot } from './Frame.tsx';
import { bandPath, ellipsePoints, linePath, marksPath, type Shape } from './paths.ts';
import { TEXT_PX } from './text-size.ts';

/** What is drawn inside a frame: data in, SVG out. Colours are names of CSS variables. */

/** Cuts off what lies outside the frame. */
export function Inside({
  plot,
  children,
}: {
  readonly plot: Plot;
  readonly children: ComponentChildren;
}) {
  const { left, top } = plot;
  const [width, height] = [plot.right - left, plot.bottom - top];
  return (
    <svg
      x={left}
      y={top}
      width={width}
      height={height}
      viewBox={`${left} ${top} ${width} ${height}`}
      overflow="hidden"
      aria-hidden="true"
    >
      {children}
    </svg>
  );
}

type Numbers = ArrayLike<number>;

interface OnPlot {
  readonly plot: Plot;
  readonly colour: string;
}

interface Columns extends OnPlot {
  readonly x: Numbers;
  readonly y: Numbers;
}

function along(scale: (value: number) => number, values: Numbers): Float64Array {
  return Float64Array.from(values, scale);
}

/** A curve; NaN leaves a gap. */
export function Curve({
  plot,
  x,
  y,
  colour,
  dash,
}: Columns & { readonly dash?: string | undefined }) {
  return (
    <path
      d={linePath(along(plot.x, x), along(plot.y, y))}
      fill="none"
      stroke={`var(${colour})`}
      stroke-width={3}
      stroke-linejoin="round"
      stroke-dasharray={dash}
    />
  );
}

interface BandProps extends OnPlot {
  readonly x: Numbers;
  readonly low: Numbers;
  readonly high: Numbers;
  readonly opacity?: number;
}

/** The area between two curves; NaN leaves a gap. What lies outside the frame is cut off. */
export function Band({ plot, x, low, high, colour, opacity = 1 }: BandProps) {
  const inside = (value: number) => Math.min(plot.bottom, Math.max(plot.top, plot.y(value)));
  return (
    <path
      d={bandPath(along(plot.x, x), along(inside, low), along(inside, high))}
      fill={`var(${colour})`}
      fill-opacity={opacity}
    />
  );
}

interface MarksProps extends Columns {
  readonly shape: Shape;
  readonly sizePx?: number;
  readonly isHollow?: boolean;
}

/** Marks of one shape. */
export function Marks({ plot, x, y, colour, shape, sizePx = 9, isHollow = false }: MarksProps) {
  const paint = `var(${colour})`;
  const isLine = isHollow || shape === 'cross';
  return (
    <path
      d={marksPath(shape, along(plot.x, x), along(plot.y, y), sizePx)}
      fill={isLine ? 'none' : paint}
      fill-opacity={0.85}
      stroke={isLine ? paint : 'var(--surface)'}
      stroke-width={isLine ? 2 : 0.8}
    />
  );
}

interface EllipseProps extends OnPlot {
  readonly centre: readonly [number, number];
  readonly halfAxes: readonly [number, number];
  readonly turnRad: number;
  readonly dash?: string | undefined;
}

/** An ellipse given in data. */
export function Ellipse({ plot, centre, halfAxes, turnRad, colour, dash }: EllipseProps) {
  const [x, y] = ellipsePoints(centre, halfAxes, turnRad);
  return <Curve plot={plot} x={x} y={y} colour={colour} dash={dash} />;
}

interface WhiskerProps extends OnPlot {
  readonly at: number;
  readonly low: number;
  readonly high: number;
  readonly isVertical?: boolean;
}

/** An interval as a line with ends, lying or standing. */
export function Whisker({ plot, at, low, high, colour, isVertical = false }: WhiskerProps) {
  const END_PX = 5;
  const [x, y] = isVertical ? [plot.x(at), plot.y(low)] : [plot.x(low), plot.y(at)];
  const end = isVertical ? plot.y(high) : plot.x(high);
  const d = isVertical
    ? `M${x - END_PX} ${y}h${2 * END_PX}M${x} ${y}V${end}M${x - END_PX} ${end}h${2 * END_PX}`
    : `M${x} ${y - END_PX}v${2 * END_PX}M${x} ${y}H${end}M${end} ${y - END_PX}v${2 * END_PX}`;
  return <path d={d} fill="none" stroke={`var(${colour})`} stroke-width={2.5} />;
}

/** A line right across the frame at one place, with a word beside it. */
export function Rule({
  plot,
  at,
  colour,
  label,
  isVertical = false,
  isLabelLow = false,
}: OnPlot & {
  readonly at: number;
  readonly label: string;
  readonly isVertical?: boolean;
  /** At the lower end of a standing line, where the upper one is crowded. */
  readonly isLabelLow?: boolean;
}) {
  const x = isVertical ? plot.x(at) : plot.right;
  const y = isVertical ? plot.top : plot.y(at);
  const labelY = isLabelLow ? plot.bottom - 8 : y + TEXT_PX;
  const d = isVertical ? `M${x} ${plot.top}V${plot.bottom}` : `M${plot.left} ${y}H${plot.right}`;
  const isRight = isVertical && x > (plot.left + plot.right) / 2;
  return (
    <g>
      <path d={d} stroke={`var(${colour})`} stroke-width={2} stroke-dasharray="6 4" fill="none" />
      <Label
        x={isVertical ? x + (isRight ? -5 : 5) : x}
        y={isVertical ? labelY : y - 5}
        anchor={isVertical && !isRight ? 'start' : 'end'}
      >
        {label}
      </Label>
    </g>
  );
}

interface LabelProps {
  /** Pixels. */
  readonly x: number;
  readonly y: number;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly children: ComponentChildren;
}

/** A word in the drawing, legible over lines. */
export function Label({ x, y, anchor = 'start', children }: LabelProps) {
  return (
    <text
      x={x}
      y={y}
      text-anchor={anchor}
      font-size={TEXT_PX}
      font-weight="700"
      fill="var(--ink)"
      stroke="var(--surface)"
      stroke-width={3}
      paint-order="stroke"
    >
      {children}
    </text>
  );
}
