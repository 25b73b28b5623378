import { ARM_ROW, GRID_STEP_US } from '../arm/arm-timeline.ts';
import type { Mounting } from '../arm/mounting.ts';
import {
  type HeadingUncertainty,
  type ReachError,
  reachError,
  reachVectorOf,
  type TiltUncertainty,
} from '../arm/reach.ts';
import { rotateByRow } from '../maths/quaternion.ts';
import { norm, turnAboutZ, vector3 } from '../maths/vector.ts';
import type { SwingCut } from './swing-cut.ts';

/** What turns orientations into reach: axes, lengths, and the headings that hold for one swing. */
export interface ArmFrame {
  readonly mounting: Mounting;
  /** Upper arm, forearm, implement, metres, shape (3). */
  readonly lengthsM: readonly [number, number, number];
  /** false: all headings are off by the same unknown angle. */
  readonly courtHeadingKnown: boolean;
  /** Turn about the vertical of each sensor's earth frame into the court frame, rad, shape (3). */
  readonly headingRad: readonly [number, number, number];
  readonly uncertainty: HeadingUncertainty;
  readonly tiltUncertainty: TiltUncertainty;
}

/** A swing at the instants of its cut, court frame; the last is the last clean one before contact. */
export interface SegmentSeries {
  readonly firstUs: number;
  readonly stepUs: number;
  /** Unit vectors along the segments: nine columns, x y z of upper arm, forearm, implement. */
  readonly directions: readonly Float64Array[];
  /** Reach vector, metres: x, y, z. */
  readonly reachVectorM: readonly Float64Array[];
  readonly reachM: Float64Array;
  /** Errors of the reach, 1 SD, metres: from swing to swing, and the same for a whole set. */
  readonly noiseM: Float64Array;
  readonly systematicM: Float64Array;
}

const direction = vector3();
const parts = [vector3(), vector3(), vector3()] as const;
const whole = vector3();
const error: ReachError = { noiseM: 0, systematicM: 0 };

/** The arm through a swing, from its orientations and a frame. @param cut one without fault */
export function segmentSeries(cut: SwingCut, frame: ArmFrame): SegmentSeries {
  const rows = cut.q.length / ARM_ROW;
  const column = () => new Float64Array(rows);
  const series = {
    firstUs: cut.firstUs,
    stepUs: GRID_STEP_US,
    directions: Array.from({ length: 9 }, column),
    reachVectorM: [column(), column(), column()],
    reachM: column(),
    noiseM: column(),
    systematicM: column(),
  };
  for (let row = 0; row < rows; row++) {
    for (let k = 0; k < 3; k++) {
      directionAt(cut, row, k, frame);
      for (let i = 0; i < 3; i++) {
        series.directions[3 * k + i]![row] = direction[i]!;
        parts[k]![i] = frame.lengthsM[k]! * direction[i]!;
      }
    }
    reachVectorOf(whole, parts);
    for (let i = 0; i < 3; i++) series.reachVectorM[i]![row] = whole[i]!;
    series.reachM[row] = norm(whole);
    reachError(error, parts, frame.uncertainty, frame.tiltUncertainty);
    series.noiseM[row] = error.noiseM;
    series.systematicM[row] = error.systematicM;
  }
  return series;
}

/** Long axis of one segment in the court frame, into `direction`. */
function directionAt(cut: SwingCut, row: number, k: number, frame: ArmFrame): void {
  rotateByRow(direction, cut.q, ARM_ROW * row + 4 * k, frame.mounting.longAxis[k]!);
  turnAboutZ(direction, frame.headingRad[k]!);
}
