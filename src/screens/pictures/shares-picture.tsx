import type { SegmentShares, Shares } from '../../core/measures/shares.ts';
import { type Estimate, isUnavailable } from '../../core/statistics/estimate.ts';
import { Frame, type Plot } from './Frame.tsx';
import type { PictureSpec, PictureView } from './picture-spec.ts';
import { estimateCells, type ReadSet, SEGMENT_LOOKS } from './read-set.ts';
import { extentOf, roundRange } from './scale.ts';
import { Rule } from './shapes.tsx';
import { stackParts } from './stack.ts';
import { SWING_AXIS } from './swing-axis.ts';

/** Which part of the arm carries the spread of reach. */
export function sharesPicture({ measures }: ReadSet): PictureSpec | null {
  const { arm } = measures;
  if (arm === undefined) return null;
  const { shares, verdicts } = arm;
  return {
    id: 'shares',
    title: 'Shares: which part of the arm makes reach differ?',
    words: verdicts.share.words,
    more: [verdicts.handOver.words],
    explanation:
      'Each column is a tenth of the swing. Its height is the whole spread of reach there (100 %), its parts are what upper arm, forearm and implement contribute. A part below zero makes up for the others: without it reach would differ more. In the view “each alone” a part stands for how much that segment varies by itself, whatever the others do. The dashed line marks where the share of one segment changes most between neighbouring tenths of the last third.',
    source:
      'Reach to first order in the directions of the segments; covariance shares with bootstrap intervals (BCa, Efron 1987).',
    views: isUnavailable(shares) ? [] : sharesViews(shares),
  };
}

function sharesViews(shares: Shares): PictureView[] {
  return [sharesView(shares, 'signed', 'together'), sharesView(shares, 'own', 'each alone')];
}

function sharesView(shares: Shares, kind: 'signed' | 'own', label: string): PictureView {
  const parts = shares.bins.map((bin) => partsOf(bin, kind));
  const stacks = parts.map((values) => (values === null ? null : stackParts(values)));
  const ends = stacks.flatMap((stack) => stack?.map(({ to }) => to) ?? []);
  const [low, high] = extentOf([0, 1, ...ends], [0, 1]);
  const { handOver } = shares;
  return {
    label,
    alternative: `Over the whole swing: ${SEGMENT_LOOKS.map((look, k) => `${look.label} ${percentOf(shares.wholeSwing[kind][k]!)}`).join(', ')}.`,
    draw: (size) => (
      <Frame
        size={size}
        x={SWING_AXIS}
        y={{
          low: 100 * roundRange(low, high, 5)[0],
          high: 100 * roundRange(low, high, 5)[1],
          label: 'Share of the spread of reach, %',
        }}
        legend={SEGMENT_LOOKS.map((look) => ({
          label: look.label,
          colour: look.soft,
          kind: 'area',
        }))}
      >
        {(plot) => (
          <>
            {stacks.map(
              (stack, bin) =>
                stack !== null && (
                  <Column key={SWING_AXIS.high - bin} plot={plot} bin={bin} stack={stack} />
                ),
            )}
            {!isUnavailable(handOver) && (
              <Rule
                plot={plot}
                at={handOver.atPercent}
                colour="--ink"
                label={`most change: ${SEGMENT_LOOKS[handOver.segment]!.label}`}
                isVertical
              />
            )}
          </>
        )}
      </Frame>
    ),
    table: {
      columns: [
        { name: 'Swing time, %', digits: 0 },
        ...SEGMENT_LOOKS.flatMap((look) => [
          { name: `${look.label}, %`, digits: 0 },
          { name: `${look.label}, 95 % from`, digits: 0 },
          { name: `${look.label}, 95 % to`, digits: 0 },
        ]),
      ],
      rows: [...shares.bins, shares.wholeSwing].map((stretch, bin) => [
        bin < shares.bins.length ? `${10 * bin} to ${10 * bin + 10}` : 'whole swing',
        ...stretch[kind].flatMap((share) => estimateCells(share, 100)),
      ]),
    },
  };
}

interface ColumnProps {
  readonly plot: Plot;
  readonly bin: number;
  readonly stack: ReturnType<typeof stackParts>;
}

function Column({ plot, bin, stack }: ColumnProps) {
  const [left, right] = [plot.x(10 * bin), plot.x(10 * bin + 10)];
  return (
    <g>
      {stack.map(({ from, to }, k) => {
        const look = SEGMENT_LOOKS[k]!;
        const top = plot.y(100 * Math.max(from, to));
        return (
          <rect
            key={look.label}
            x={left + 0.5}
            width={right - left - 1}
            y={top}
            height={plot.y(100 * Math.min(from, to)) - top}
            fill={`var(${look.soft})`}
            stroke={`var(${look.colour})`}
            stroke-width={1.4}
          />
        );
      })}
    </g>
  );
}

/** null where a share is not known. */
function partsOf(bin: SegmentShares, kind: 'signed' | 'own'): number[] | null {
  const known = bin[kind].filter((share): share is Estimate => !isUnavailable(share));
  return known.length < 3 ? null : known.map(({ value }) => value);
}

function percentOf(share: SegmentShares['signed'][number]): string {
  return isUnavailable(share) ? 'not known' : `${(100 * share.value).toFixed(0)} %`;
}
