import { type ArmTimeline, slotOf } from '../arm/arm-timeline.ts';
import type { Mounting } from '../arm/mounting.ts';
import {
  type HeadingUncertainty,
  type ReachError,
  reachError,
  reachVectorOf,
} from '../arm/reach.ts';
import { rotateComponents } from '../maths/quaternion.ts';
import { norm, type Vector3, vector3 } from '../maths/vector.ts';

/** What turns orientations into reach: axes, lengths, and the headings that hold for one swing. */
export interface ArmFrame {
  readonly mounting: Mounting;
  /** Upper arm, forearm, implement, metres, shape (3). */
  readonly lengthsM: readonly number[];
  /** Turn about the vertical of each sensor's earth frame into the court frame, rad, shape (3). */
  readonly headingRad: readonly number[];
  readonly uncertainty: HeadingUncertainty;
}

/** Room for the three segment vectors. */
export type SegmentVectors = readonly [Vector3, Vector3, Vector3];

/** Room for {@link segmentVectorsAt}. */
function createSegmentVectors(): SegmentVectors {
  return [vector3(), vector3(), vector3()];
}

/**
 * Segment vectors at one instant of the timeline.
 * @param out three of shape (3), metres, court frame: shoulder to elbow, elbow to wrist, wrist to sweet spot
 */
function segmentVectorsAt(
  out: SegmentVectors,
  timeline: ArmTimeline,
  instant: number,
  frame: ArmFrame,
): SegmentVectors {
  const slot = 12 * slotOf(instant);
  for (let k = 0; k < 3; k++) {
    const at = slot + 4 * k;
    const d = frame.mounting.longAxis[k]!;
    const l = frame.lengthsM[k]!;
    const v = rotateComponents(
      out[k]!,
      timeline.q[at]!,
      timeline.q[at + 1]!,
      timeline.q[at + 2]!,
      timeline.q[at + 3]!,
      l * d[0]!,
      l * d[1]!,
      l * d[2]!,
    );
    const c = Math.cos(frame.headingRad[k]!);
    const s = Math.sin(frame.headingRad[k]!);
    const x = v[0]!;
    v[0] = c * x - s * v[1]!;
    v[1] = s * x + c * v[1]!;
  }
  return out;
}

const parts = createSegmentVectors();
const whole = vector3();

/** Reach vector at consecutive instants, metres, court frame, with the errors of its length. */
export interface ReachSeries {
  readonly first: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  readonly reachM: Float64Array;
  /** Errors of the length, 1 SD: from swing to swing, and the same for a whole set. */
  readonly noiseM: Float64Array;
  readonly systematicM: Float64Array;
}

const error: ReachError = { noiseM: 0, systematicM: 0 };

/** @param first, last absolute instant numbers, both included */
export function reachSeries(
  timeline: ArmTimeline,
  first: number,
  last: number,
  frame: ArmFrame,
): ReachSeries {
  const n = last - first + 1;
  const column = () => new Float64Array(n);
  const series = {
    first,
    x: column(),
    y: column(),
    z: column(),
    reachM: column(),
    noiseM: column(),
    systematicM: column(),
  };
  for (let i = 0; i < n; i++) {
    segmentVectorsAt(parts, timeline, first + i, frame);
    reachVectorOf(whole, parts);
    series.x[i] = whole[0]!;
    series.y[i] = whole[1]!;
    series.z[i] = whole[2]!;
    series.reachM[i] = norm(whole);
    reachError(error, parts, frame.uncertainty);
    series.noiseM[i] = error.noiseM;
    series.systematicM[i] = error.systematicM;
  }
  return series;
}
