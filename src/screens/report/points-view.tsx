import { type ReportedSet, swingsOf } from '../../reports/reported-set.ts';
import { Frame } from '../pictures/Frame.tsx';
import type { PictureView } from '../pictures/picture-spec.ts';
import { roundRange } from '../pictures/scale.ts';
import { Label } from '../pictures/shapes.tsx';

/** Half of a bar's width; steps lie 1 apart. */
const HALF_BAR = 0.36;

/** How many balls scored how many points; null: none was scored. */
export function pointsView(set: ReportedSet): Pick<PictureView, 'draw' | 'alternative'> | null {
  const scored = swingsOf(set).flatMap(({ points, swing, discarded }) =>
    points === null || discarded || swing.voidReason !== null ? [] : [points],
  );
  if (scored.length === 0) return null;
  const steps = [...new Set([...set.description.scoreSteps, ...scored])].sort((a, b) => a - b);
  const counts = steps.map((step) => scored.filter((points) => points === step).length);
  return {
    alternative: steps.map((step, i) => `${step} points: ${counts[i]!} balls.`).join(' '),
    draw: (size) => (
      <Frame
        size={size}
        x={{
          low: -0.6,
          high: steps.length - 0.4,
          label: 'Points',
          ticks: steps.map((step, at) => ({ at, label: String(step) })),
        }}
        y={{
          low: 0,
          high: roundRange(0, Math.max(...counts) + 0.5, 4)[1],
          label: 'Balls',
          ticks: [],
        }}
      >
        {(plot) =>
          counts.map((count, at) => (
            <g key={steps[at]}>
              <rect
                x={plot.x(at - HALF_BAR)}
                width={plot.x(at + HALF_BAR) - plot.x(at - HALF_BAR)}
                y={plot.y(count)}
                height={plot.bottom - plot.y(count)}
                fill="var(--in)"
              />
              <Label x={plot.x(at)} y={plot.y(count) - 5} anchor="middle">
                {String(count)}
              </Label>
            </g>
          ))
        }
      </Frame>
    ),
  };
}
