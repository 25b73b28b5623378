import { landingWords } from '../../core/measures/number-words.ts';
import { unavailableWords } from '../../core/measures/thresholds.ts';
import type { ScoredSwing } from '../../core/pipeline/outputs.ts';
import { isUnavailable } from '../../core/statistics/estimate.ts';
import { ClassMarks, classLegend } from './ClassMarks.tsx';
import { Frame, type Plot } from './Frame.tsx';
import type { PictureSpec, PictureView } from './picture-spec.ts';
import { countedSwings, groupsByClass, type ReadSet } from './read-set.ts';
import { extentOf, roundRange } from './scale.ts';
import { Label } from './shapes.tsx';

/** Where the balls landed. */
export function scoreMapPicture(read: ReadSet): PictureSpec | null {
  const { score } = read.measures;
  if (score === undefined) return null;
  const landing = isUnavailable(score) ? score : score.landing;
  const landed = countedSwings(read).filter(({ landingM }) => landingM !== null);
  return {
    id: 'score-map',
    title: 'Score map: where do the balls land?',
    words: isUnavailable(landing)
      ? landed.length === 0
        ? 'Where the balls landed is not known: none was tapped on the target map.'
        : `Not known where the balls land on average: ${unavailableWords(landing)}.`
      : (landingWords(landing) ?? ''),
    explanation:
      'The court from above, as the player looks at the target: up is beyond its middle, right is right of it. Each mark is where a ball landed, its shape its class of score. Zero is the middle of the target.',
    source: 'Constant and variable error in two dimensions (Hancock, Butler & Fischman 1995).',
    views: landed.length === 0 ? [] : [mapView(read, landed)],
  };
}

function mapView({ description }: ReadSet, landed: readonly ScoredSwing[]): PictureView {
  const right = Float64Array.from(landed, ({ landingM }) => -landingM![1]);
  const beyond = Float64Array.from(landed, ({ landingM }) => landingM![0]);
  const groups = groupsByClass(landed, description);
  const target = description.plan?.target ?? null;
  const [halfWidth, halfDepth] = [(target?.widthM ?? 0) / 2, (target?.depthM ?? 0) / 2];
  const rangeOf = (values: Float64Array, half: number) => {
    const [low, high] = extentOf([...values, -half, half, 0], [-1, 1]);
    return roundRange(low - 0.1, high + 0.1, 6);
  };
  const [across, up] = [rangeOf(right, halfWidth), rangeOf(beyond, halfDepth)];
  return {
    label: 'from above',
    alternative: `${landed.length} balls around the middle of the target.`,
    aspect: 1,
    draw: (size) => (
      <Frame
        size={size}
        isEqual
        x={{ low: across[0], high: across[1], label: 'Right of the middle, m' }}
        y={{ low: up[0], high: up[1], label: 'Beyond the middle, m' }}
        legend={classLegend(groups)}
      >
        {(plot) => (
          <>
            {target !== null && (
              <TargetBox plot={plot} halfWidth={halfWidth} halfDepth={halfDepth} />
            )}
            <Middle plot={plot} />
            <ClassMarks plot={plot} groups={groups} x={right} y={beyond} />
          </>
        )}
      </Frame>
    ),
    table: {
      columns: [
        { name: 'Swing', digits: 0 },
        { name: 'Beyond the middle, m', digits: 2 },
        { name: 'Right of the middle, m', digits: 2 },
        { name: 'Points', digits: 0 },
      ],
      rows: landed.map(({ swing, points }, i) => [swing.index + 1, beyond[i]!, right[i]!, points]),
    },
  };
}

interface TargetProps {
  readonly plot: Plot;
  readonly halfWidth: number;
  readonly halfDepth: number;
}

function TargetBox({ plot, halfWidth, halfDepth }: TargetProps) {
  return (
    <rect
      x={plot.x(-halfWidth)}
      y={plot.y(halfDepth)}
      width={plot.x(halfWidth) - plot.x(-halfWidth)}
      height={plot.y(-halfDepth) - plot.y(halfDepth)}
      fill="var(--in-soft)"
      stroke="var(--in)"
    />
  );
}

function Middle({ plot }: { readonly plot: Plot }) {
  const [x, y] = [plot.x(0), plot.y(0)];
  return (
    <g>
      <path d={`M${x - 9} ${y}h18M${x} ${y - 9}v18`} stroke="var(--ink)" stroke-width={2} />
      <Label x={x + 8} y={y - 8}>
        middle
      </Label>
    </g>
  );
}
