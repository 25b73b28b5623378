import type { Funnel, ReachCurve } from '../measures/funnel.ts';
import {
  addSwing,
  createRunningFunnel,
  funnelSoFar,
  type RunningFunnel,
  removeSwing,
} from '../measures/running-funnel.ts';

/** The funnel of a running set and the curve each swing has put into it; null: none. Plain data. */
export interface LiveFunnel {
  readonly running: RunningFunnel;
  readonly curves: (ReachCurve | null)[];
}

/** No swing yet. */
export function createLiveFunnel(): LiveFunnel {
  return { running: createRunningFunnel(), curves: [] };
}

/**
 * Brings the funnel to the swings as they now stand: only those that are new, discarded, taken back or read
 * otherwise cost anything.
 * @param wanted one a swing, in order; null for a swing that does not count
 */
export function updateLiveFunnel(
  { running, curves }: LiveFunnel,
  wanted: readonly (ReachCurve | null)[],
): Funnel {
  for (const [i, curve] of wanted.entries()) {
    const before = curves[i] ?? null;
    if (before === curve) continue;
    if (before !== null) removeSwing(running, before);
    if (curve !== null) addSwing(running, curve);
    curves[i] = curve;
  }
  return funnelSoFar(running);
}
