import { dataFault, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { carryOverCurve } from './carry-over.ts';
import {
  askGuards,
  type FunnelEvidence,
  type GuardAnswer,
  type GuardName,
} from './funnel-guards.ts';
import { type FunnelVerdict, judgeFunnel, tooFewSwings, unusable } from './funnel-verdict.ts';
import { geometryNull } from './geometry-null.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import { midToContact, narrowingRatio, type ResamplingOptions } from './narrowing.ts';
import { funnelBand } from './reach-at-contact.ts';
import { reachBeforeContact, reachInPercent } from './reach-table.ts';
import { fitSwingTiming } from './swing-timing.ts';
import { MEASURES } from './thresholds.ts';
import { timingNull } from './timing-null.ts';

/** The funnel of a set with all that guards it. */
export interface FunnelMeasure {
  readonly verdict: FunnelVerdict;
  /** null when the set is too small or its reach unusable; the verdict says why. */
  readonly evidence: FunnelEvidence | null;
  readonly guards: Record<GuardName, GuardAnswer> | null;
}

/**
 * Does reach narrow toward contact, and is it more than alignment, timing or posture can do?
 * @param swings of one player under one condition, at least ten for an answer
 * @returns the same for the same swings, seed and number of resamples
 * Source: design.md section 9.
 * Checked: tests/measures/funnel-operating.test.ts: how often it is right and wrong, by simulation
 */
export function measureFunnel(
  swings: readonly MeasuredSwing[],
  options: ResamplingOptions,
): FunnelMeasure {
  const n = swings.length;
  const none = { evidence: null, guards: null };
  if (n < MEASURES.funnel.limits.minimumN) return { verdict: tooFewSwings(n), ...none };
  const fault = firstFault(swings);
  if (fault) return { verdict: unusable(n, fault), ...none };
  const evidence = gatherEvidence(swings, options);
  const guards = askGuards(evidence);
  return { verdict: judgeFunnel(n, guards), evidence, guards };
}

function gatherEvidence(
  swings: readonly MeasuredSwing[],
  options: ResamplingOptions,
): FunnelEvidence {
  const table = reachInPercent(swings);
  const timing = fitSwingTiming(swings);
  const timedTable = reachBeforeContact(swings);
  return {
    table,
    band: funnelBand(table),
    narrowing: narrowingRatio(table, options),
    midToContact: midToContact(table),
    timed: isUnavailable(timedTable)
      ? timedTable
      : {
          table: timedTable,
          band: funnelBand(timedTable),
          narrowing: narrowingRatio(timedTable, options),
          midToContact: midToContact(timedTable),
        },
    carryOver: carryOverCurve(table),
    timingNull: timingNull(swings, table, timing),
    geometryNull: geometryNull(swings, table, timing),
  };
}

function firstFault(swings: readonly MeasuredSwing[]): Unavailable | null {
  for (const swing of swings) {
    const fault =
      dataFault(1, swing.reachCurveM, swing.reachCurveNoiseM) ?? dataFault(1, swing.directions);
    if (fault) return fault;
  }
  return null;
}
