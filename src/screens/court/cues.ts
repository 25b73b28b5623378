import type { ScoredSwing } from '../../core/pipeline/outputs.ts';
import { isTold } from '../../core/plan/feedback-schedule.ts';
import type { SetPlan } from '../../core/recording/set-plan.ts';
import type { SweetSpotBand } from '../../core/recording/set-record.ts';
import { isStruck } from './coach-log.ts';
import { centimetres, type Miss, missOf } from './swing-words.ts';

/** What the player is to hear of a swing. */
export interface Cue {
  readonly kind: 'tone' | 'speech';
  readonly miss: Miss;
  readonly words: string;
}

/**
 * The cue of a swing that has just come, by the plan's feedback.
 * @param band of its block
 * @param swings of the set so far, this one among them
 * @returns null: the player is not told
 */
export function cueOf(
  plan: SetPlan | undefined,
  band: SweetSpotBand | null,
  swings: readonly ScoredSwing[],
  scored: ScoredSwing,
): Cue | null {
  const { swing, block } = scored;
  if (plan === undefined || plan.feedback.cue === 'none' || swing.voidReason !== null) return null;
  const before = swings.filter(
    (other) =>
      other.block === block && isStruck(other) && other.swing.contactTimeUs < swing.contactTimeUs,
  );
  const miss = missOf(swing.reachM, band);
  const isInBand = miss.side === 'unknown' ? null : miss.side === 'in';
  const place = { block, nBlocks: plan.blocks.length, swing: before.length };
  if (!isTold(plan.feedback, place, isInBand)) return null;
  // a pitch says nothing before there is a band to be off
  if (plan.feedback.cue === 'tone' && miss.side === 'unknown') return null;
  return { kind: plan.feedback.cue, miss, words: spoken(swing.reachM, miss) };
}

/**
 * What the player hears of a spoken cue where nothing can speak.
 * @returns null when a pitch cannot tell it: there is no band to be off
 */
export function asTone(cue: Cue): Cue | null {
  return cue.miss.side === 'unknown' ? null : { ...cue, kind: 'tone' };
}

/** As short as can be: the next ball comes. */
function spoken(reachM: number, { side, beyondM }: Miss): string {
  if (side === 'in') return 'good';
  if (side === 'unknown') return centimetres(reachM).replace(/\..*/, '');
  const cm = Math.max(1, Math.round(beyondM * 100));
  return `${side} ${cm}`;
}
