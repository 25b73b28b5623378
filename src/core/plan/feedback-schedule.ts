import type { FeedbackPlan } from '../recording/set-plan.ts';

/** Which swing of a set it is, counted from 0. */
export interface SwingPlace {
  readonly block: number;
  /** Planned blocks. */
  readonly nBlocks: number;
  /** Within its block; may go on beyond the planned number. */
  readonly swing: number;
}

/** Share of swings that are told in the last block, when feedback fades. */
const LAST_SHARE = 0.25;
/** Room for binary fractions: 0.85 x 20 must count as 17. */
const ROUNDING = 1e-9;

/**
 * Share of the swings of a block that the player is told about: all of them, or, fading, from all in the first
 * block in equal steps to a quarter in the last. A single block cannot fade.
 * @returns 0.25 to 1
 * @throws RangeError for a block below 0 or fewer than one planned block
 * Source: Winstein & Schmidt 1990, doi 10.1037/0278-7393.16.4.677 (abstract): told ever less often in practice,
 * learners did better without feedback later. That they were told half of the time is from memory; the straight
 * line from 100 to 25 % is ours.
 * Checked: tests/plan/feedback-schedule.test.ts
 */
export function toldShare(isFading: boolean, block: number, nBlocks: number): number {
  if (!(block >= 0 && nBlocks >= 1)) {
    throw new RangeError(`no such block: ${block} (from 0) of ${nBlocks}`);
  }
  if (!isFading || nBlocks === 1) return 1;
  return 1 - (1 - LAST_SHARE) * Math.min(1, block / (nBlocks - 1));
}

/**
 * Whether the player is told about this swing. Told swings are spread evenly over a block: after n swings
 * the share of n, rounded, has been told.
 * @param isInBand whether the reach lies in the sweet-spot band; null when there is no band: then all count as off it
 * @throws RangeError for a block or swing below 0 or fewer than one planned block
 * Source: only off the band is bandwidth knowledge of results, Sherwood 1988, doi 10.2466/pms.1988.66.2.535
 * (from memory); silence then means good.  Checked: tests/plan/feedback-schedule.test.ts
 */
export function isTold(
  { cue, isOnlyOffBand, isFading }: FeedbackPlan,
  { block, nBlocks, swing }: SwingPlace,
  isInBand: boolean | null,
): boolean {
  if (!(swing >= 0)) throw new RangeError(`no such swing: ${swing} (from 0)`);
  const share = toldShare(isFading, block, nBlocks);
  if (cue === 'none' || (isOnlyOffBand && isInBand === true)) return false;
  const toldAfter = (swings: number): number => Math.floor(share * swings + 0.5 + ROUNDING);
  return toldAfter(swing + 1) > toldAfter(swing);
}
