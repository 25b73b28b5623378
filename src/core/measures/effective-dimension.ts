import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { jackknifeInterval } from '../statistics/jackknife-interval.ts';
import { participationRatio } from '../statistics/participation-ratio.ts';
import { takeRows } from '../statistics/resampling.ts';
import { type AngleColumns, type ArmAngles, TENTHS, varies } from './arm-angles.ts';
import { MEASURES } from './thresholds.ts';

/** In how many independent ways the arm varies from swing to swing, at 0, 10, .. 100 % of the swing. */
export interface EffectiveDimension {
  readonly n: number;
  /** Of three segment angles, 1 to 3; a turn of the whole arm counts as one way. */
  readonly segments: readonly (Estimate | Unavailable)[];
  /** Of elbow and wrist, 1 to 2; blind to turns of the whole arm. */
  readonly joints: readonly (Estimate | Unavailable)[];
}

const { limits: LIMITS } = MEASURES.effectiveDimension;

/**
 * Participation ratio of the covariance of the angles, without the bias of few swings, held between 1 and the
 * number of angles; interval by jackknife, since swings drawn twice would look like fewer ways.
 * @param angles of at least ten swings
 * Source: design.md section 9; participationRatio.
 * Checked: tests/measures/effective-dimension.test.ts, coverage too
 */
export function effectiveDimension(angles: ArmAngles): EffectiveDimension | Unavailable {
  const { n, upperArm, forearm, implement, elbow, wrist } = angles;
  if (n < LIMITS.minimumN) return { reason: 'too-few', need: LIMITS.minimumN, have: n };
  return {
    n,
    segments: TENTHS.map((point) => dimensionAt(point, [upperArm, forearm, implement])),
    joints: TENTHS.map((point) => dimensionAt(point, [elbow, wrist])),
  };
}

function dimensionAt(point: number, angles: readonly AngleColumns[]): Estimate | Unavailable {
  const columns = angles.map((angle) => angle[point]!);
  if (!columns.some(varies)) return { reason: 'no-spread' };
  const answer = jackknifeInterval(columns[0]!.length, (rows) =>
    participationRatio(columns.map((column) => takeRows(column, rows))),
  );
  if (isUnavailable(answer)) return answer;
  const held = (x: number) => Math.min(columns.length, Math.max(1, x));
  const { value, low, high } = answer;
  return { ...answer, value: held(value), low: held(low), high: held(high) };
}
