import { angleBetween } from '../../core/maths/vector.ts';
import type { SwingTrace } from '../../core/pipeline/swing-trace.ts';
import { CM, DEG, SEGMENT_LOOKS } from '../pictures/read-set.ts';

/** One curve of a trace. */
export interface ChannelLine {
  readonly label: string;
  /** Name of the CSS variable. */
  readonly colour: string;
  readonly dash?: string | undefined;
  readonly values: Float64Array;
}

/** What can be looked at through one swing. */
export interface Channel {
  readonly label: string;
  /** What is counted, and its unit. */
  readonly axis: string;
  readonly lines: readonly ChannelLine[];
}

const JOINT_LOOKS = [
  { label: 'elbow', colour: '--in', dash: undefined },
  { label: 'wrist', colour: '--off', dash: '9 5' },
] as const;

/**
 * The channels of one swing, each curve of shape (rows of the trace).
 * Elevation is the angle above the horizontal, bend that between neighbouring segments, 0 when they are in line.
 * Checked: tests/screens/trace-channels.test.ts
 */
export function channelsOf(trace: SwingTrace): Channel[] {
  const { reachM, directions, turnRateRadS } = trace;
  const perSegment = (of: (k: number) => Float64Array): ChannelLine[] =>
    SEGMENT_LOOKS.map(({ label, colour, dash }, k) => ({ label, colour, dash, values: of(k) }));
  return [
    {
      label: 'reach',
      axis: 'Reach, cm',
      lines: [{ label: 'reach', colour: '--in', values: reachM.map((m) => CM * m) }],
    },
    {
      label: 'elevation',
      axis: 'Angle above level, degrees',
      lines: perSegment((k) =>
        directions[3 * k + 2]!.map((z) => DEG * Math.asin(Math.min(1, Math.max(-1, z)))),
      ),
    },
    {
      label: 'joints',
      axis: 'Bend of the joint, degrees',
      lines: JOINT_LOOKS.map((look, k) => ({ ...look, values: bendOf(trace, k) })),
    },
    {
      label: 'turning',
      axis: 'Turning speed, degrees per second',
      lines: perSegment((k) => turnRateRadS[k]!.map((rate) => DEG * rate)),
    },
  ];
}

/** Angle between a segment and the next one, degrees. */
function bendOf({ directions, reachM }: SwingTrace, proximal: number): Float64Array {
  const at = (segment: number, row: number) =>
    Float64Array.from([0, 1, 2], (i) => directions[3 * segment + i]![row]!);
  return reachM.map((_, row) => DEG * angleBetween(at(proximal, row), at(proximal + 1, row)));
}
