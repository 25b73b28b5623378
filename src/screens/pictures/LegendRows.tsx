import { marksPath, type Shape } from './paths.ts';
import { LETTER, TEXT_PX } from './text-size.ts';

/** One thing a drawing shows, and how. Colours are names of CSS variables. */
export interface LegendEntry {
  readonly label: string;
  readonly colour: string;
  readonly kind: 'line' | 'area' | Shape;
  readonly dash?: string;
}

const ROW_PX = 20;
const SIGN_PX = 22;
const GAP_PX = 14;

interface Placed {
  readonly entry: LegendEntry;
  readonly x: number;
  readonly row: number;
}

/** Pixels the legend needs above a drawing of this width. */
export function legendHeight(entries: readonly LegendEntry[], width: number): number {
  return entries.length === 0 ? 0 : ((place(entries, width).at(-1)?.row ?? 0) + 1) * ROW_PX + 4;
}

/** The legend as part of the drawing, so that a saved picture has it too. */
export function LegendRows({
  entries,
  width,
}: {
  readonly entries: readonly LegendEntry[];
  readonly width: number;
}) {
  return (
    <g>
      {place(entries, width).map(({ entry, x, row }) => (
        <g key={entry.label} transform={`translate(${x} ${row * ROW_PX + ROW_PX / 2})`}>
          <Sign entry={entry} />
          <text x={SIGN_PX + 5} y={TEXT_PX * 0.35}>
            {entry.label}
          </text>
        </g>
      ))}
    </g>
  );
}

function Sign({ entry: { kind, colour, dash } }: { readonly entry: LegendEntry }) {
  const paint = `var(${colour})`;
  if (kind === 'area')
    return (
      <rect x={0} y={-6} width={SIGN_PX} height={12} fill={paint} stroke="var(--floor-edge)" />
    );
  if (kind === 'line')
    return <path d={`M0 0H${SIGN_PX}`} stroke={paint} stroke-width={3} stroke-dasharray={dash} />;
  const isStroke = kind === 'cross';
  return (
    <path
      d={marksPath(kind, [SIGN_PX / 2], [0], 11)}
      fill={isStroke ? 'none' : paint}
      stroke={isStroke ? paint : 'none'}
      stroke-width={2}
    />
  );
}

function place(entries: readonly LegendEntry[], width: number): Placed[] {
  let x = 0;
  let row = 0;
  return entries.map((entry) => {
    const needs = SIGN_PX + 5 + entry.label.length * LETTER * TEXT_PX;
    if (x > 0 && x + needs > width) {
      x = 0;
      row++;
    }
    const placed = { entry, x, row };
    x += needs + GAP_PX;
    return placed;
  });
}
