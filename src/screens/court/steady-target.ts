import type { ScoredSwing } from '../../core/pipeline/outputs.ts';

/** Nobody sees a new number and taps within this time: such a tap was meant for the swing before. */
const TOO_SOON_MS = 400;

/**
 * Remembers which swing the coach had before the eyes: a tap that falls just after a new one has come was aimed
 * at that.
 * @param nowMs any monotonic clock
 */
export function createSteadyTarget(nowMs: () => number): {
  /** To be told the target with every view. */
  look(target: ScoredSwing | null): void;
  /** Contact time of the swing that a tap now is aimed at instead of the target; null: the target. */
  stillMeant(): number | null;
} {
  let shown: number | null = null;
  let before: number | null = null;
  let sinceMs = 0;
  return {
    look: (target) => {
      const contactUs = target?.swing.contactTimeUs ?? null;
      if (contactUs === shown) return;
      before = contactUs !== null && shown !== null && contactUs > shown ? shown : null;
      shown = contactUs;
      sinceMs = nowMs();
    },
    stillMeant: () => (nowMs() - sinceMs < TOO_SOON_MS ? before : null),
  };
}
