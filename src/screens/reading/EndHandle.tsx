import type { TargetedPointerEvent } from 'preact';
import type { Plot } from '../pictures/Frame.tsx';
import { Label } from '../pictures/shapes.tsx';

interface Props {
  readonly plot: Plot;
  readonly name: 'Start' | 'Contact';
  /** Milliseconds on the axis: where it is, and how far it can go. */
  readonly atMs: number;
  readonly fromMs: number;
  readonly toMs: number;
  readonly onMove: (atMs: number) => void;
}

/** As wide as a thumb. */
const TOUCH_PX = 48;
const KEY_STEP_MS = 5;
const PAGE_STEP_MS = 25;

const KEY_STEPS: Readonly<Record<string, number>> = {
  ArrowLeft: -KEY_STEP_MS,
  ArrowDown: -KEY_STEP_MS,
  ArrowRight: KEY_STEP_MS,
  ArrowUp: KEY_STEP_MS,
  PageDown: -PAGE_STEP_MS,
  PageUp: PAGE_STEP_MS,
};

/** One end of a swing on its trace, moved by pointer or arrow keys. */
export function EndHandle({ plot, name, atMs, fromMs, toMs, onMove }: Props) {
  const x = plot.x(atMs);
  const moveTo = (wanted: number): void => onMove(Math.min(toMs, Math.max(fromMs, wanted)));
  const onKeyDown = (event: KeyboardEvent): void => {
    const ends: Readonly<Record<string, number>> = { Home: fromMs, End: toMs };
    const step = KEY_STEPS[event.key];
    const wanted = step === undefined ? ends[event.key] : atMs + step;
    if (wanted === undefined) return;
    event.preventDefault();
    moveTo(wanted);
  };
  const follow = (event: TargetedPointerEvent<SVGGElement>): void => {
    const handle = event.currentTarget;
    if (!handle.hasPointerCapture(event.pointerId)) return;
    const box = handle.ownerSVGElement!.getBoundingClientRect();
    moveTo(plot.x.invert(event.clientX - box.left));
  };
  return (
    // In SVG the name of this attribute has no capital.
    <g
      class="end-handle"
      role="slider"
      tabindex={0}
      aria-label={`${name} of the swing`}
      aria-valuemin={Math.round(fromMs)}
      aria-valuemax={Math.round(toMs)}
      aria-valuenow={Math.round(atMs)}
      aria-valuetext={`${Math.round(atMs)} ms`}
      onKeyDown={onKeyDown}
      onPointerDown={(event) => event.currentTarget.setPointerCapture(event.pointerId)}
      onPointerMove={follow}
    >
      <rect
        x={x - TOUCH_PX / 2}
        y={plot.top}
        width={TOUCH_PX}
        height={plot.bottom - plot.top}
        fill="transparent"
      />
      <path d={`M${x} ${plot.top}V${plot.bottom}`} stroke="var(--ink)" stroke-width={3} />
      <path d={gripPath(x, plot.bottom)} fill="var(--ink)" />
      <Label
        x={x + (name === 'Start' ? 6 : -6)}
        y={plot.top + 13}
        anchor={name === 'Start' ? 'start' : 'end'}
      >
        {name}
      </Label>
    </g>
  );
}

function gripPath(x: number, bottom: number): string {
  return `M${x - 9} ${bottom - 9}h18v14l-9 8l-9 -8Z`;
}
