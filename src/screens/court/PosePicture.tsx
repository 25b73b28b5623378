import { type PerSegment, SEGMENTS } from '../../core/arm/segments.ts';
import type { PoseLook } from '../../core/pipeline/outputs.ts';
import './pose-picture.css';

/** The two holds. */
export type Pose = 'plumb' | 'point';

interface Props {
  readonly pose: Pose;
  /** The arm as it is; null while no sensor speaks. */
  readonly look: PoseLook | null;
}

/** Drawn lengths, in the units of the picture. */
const DRAWN: PerSegment<number> = { upperArm: 30, forearm: 26, implement: 38 };
const SHOULDER = { plumb: { x: 52, y: 34 }, point: { x: 26, y: 54 } } as const;
const WANTED_RAD = { plumb: -Math.PI / 2, point: 0 } as const;

/** The arm from the side: as wanted, dashed, and as it is; a segment that is not still is drawn broken and in rust. */
export function PosePicture({ pose, look }: Props) {
  const wanted = chain(pose, () => WANTED_RAD[pose]);
  // Before the first hold nobody knows which way a sensor's segment points: then only stillness is shown.
  const live = chain(pose, (segment) => {
    const elevation = look?.elevationRad[segment] ?? Number.NaN;
    return Number.isNaN(elevation) ? WANTED_RAD[pose] : elevation;
  });
  return (
    <svg
      class="pose-picture"
      viewBox={pose === 'plumb' ? '14 0 84 134' : '0 8 132 96'}
      aria-hidden="true"
    >
      {pose === 'plumb' ? (
        <>
          <circle cx="40" cy="16" r="11" class="pose-body" />
          <path d="M40 28V78" class="pose-body" />
        </>
      ) : (
        <>
          <circle cx="22" cy="30" r="11" class="pose-body" />
          <path d="M22 42V96" class="pose-body" />
        </>
      )}
      {SEGMENTS.map((segment) => (
        <path key={segment} d={wanted[segment]} class="pose-wanted" />
      ))}
      {look !== null &&
        SEGMENTS.map((segment) => (
          <path
            key={segment}
            d={live[segment]}
            class={`pose-live pose-${segment} ${look.isStill[segment] ? 'pose-still' : 'pose-moving'}`}
          />
        ))}
      {pose === 'point' && <path d="M62 50v-14" class="pose-thumb" />}
    </svg>
  );
}

/** One line a segment, each beginning where the last one ends. */
function chain(
  pose: Pose,
  elevationOf: (segment: (typeof SEGMENTS)[number]) => number,
): PerSegment<string> {
  let { x, y }: { x: number; y: number } = SHOULDER[pose];
  const [upperArm, forearm, implement] = SEGMENTS.map((segment) => {
    const elevation = elevationOf(segment);
    const from = `M${x.toFixed(1)} ${y.toFixed(1)}`;
    x += DRAWN[segment] * Math.cos(elevation);
    y -= DRAWN[segment] * Math.sin(elevation);
    return `${from}L${x.toFixed(1)} ${y.toFixed(1)}`;
  }) as [string, string, string];
  return { upperArm, forearm, implement };
}
