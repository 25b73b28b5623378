import { armAngles } from '../measures/arm-angles.ts';
import type { MeasuredSwing } from '../measures/measured-swing.ts';
import { MEASURES } from '../measures/thresholds.ts';
import { blocksLike } from '../pipeline/blocks.ts';
import { measuredSwings } from '../pipeline/measured-swings.ts';
import type { ScoredSwing } from '../pipeline/outputs.ts';
import { type PipelineState, scoredSwings } from '../pipeline/pipeline.ts';
import { reviewSwings } from '../pipeline/review.ts';
import type { SetDescription } from '../recording/set-description.ts';
import type { Condition } from '../recording/set-record.ts';
import { isUnavailable } from '../statistics/estimate.ts';
import type { SwingReading } from '../swings/read-swing.ts';
import { SWING_POINTS } from '../swings/swing.ts';

/** One swing of a reviewed set with all that is exported of it; small, so that thousands of sets can wait. */
export interface SwingRow {
  readonly description: SetDescription;
  /** That of its block. */
  readonly condition: Condition;
  readonly scored: ScoredSwing;
  /**
   * Unit vectors along upper arm, forearm and implement at contact, court frame, shape (3 segments, 3); null when
   * void.
   */
  readonly directions: Float64Array | null;
  /**
   * In-plane angles at contact of upper arm, forearm, implement, elbow, wrist, rad, in the swing plane of the swings
   * under the same condition; null when void, discarded, without court heading, or too few have a plane.
   */
  readonly anglesRad: readonly number[] | null;
}

const CONTACT = SWING_POINTS - 1;
const LEAST_SWINGS = MEASURES.shares.limits.minimumN;

/** All swings of a finished set, read with hindsight, in order. */
export function swingRows(state: PipelineState): SwingRow[] {
  const { conditions } = state.blocks;
  const readings = reviewSwings(state);
  const scored = scoredSwings(state, readings);
  const angles = conditions.map((_, block) => anglesOfBlock(state, readings, scored, block));
  return readings.map(({ curves }, i) => {
    const swing = scored[i]!;
    return {
      description: state.description,
      condition: conditions[swing.block]!,
      scored: swing,
      directions: curves?.directions.slice(9 * CONTACT) ?? null,
      anglesRad: angles[swing.block]!.get(i) ?? null,
    };
  });
}

/** Angles of the swings of one block by their place in the set, in the plane of all under its condition. */
function anglesOfBlock(
  state: PipelineState,
  readings: readonly SwingReading[],
  scored: readonly ScoredSwing[],
  block: number,
): Map<number, readonly number[]> {
  const blocks = blocksLike(state.blocks.conditions, block);
  const found = new Map<number, readonly number[]>();
  const places: number[] = [];
  const swings: MeasuredSwing[] = [];
  readings.forEach((reading, i) => {
    // one at a time, so that the choice of what counts stays in one place
    const [swing] = measuredSwings([reading], [scored[i]!], blocks);
    if (swing === undefined || !swing.courtHeadingKnown) return;
    places.push(i);
    swings.push(swing);
  });
  const angles = swings.length < LEAST_SWINGS ? null : armAngles(swings);
  if (angles === null || isUnavailable(angles)) return found;
  const { upperArm, forearm, implement, elbow, wrist } = angles;
  const columns = [upperArm, forearm, implement, elbow, wrist].map((angle) => angle[CONTACT]!);
  for (const [row, place] of places.entries()) {
    found.set(
      place,
      columns.map((column) => column[row]!),
    );
  }
  return found;
}
