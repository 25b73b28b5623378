import { summariseFunnel } from '../core/measures/funnel.ts';
import type { PipelineParams } from '../core/pipeline/params.ts';
import { createPipeline, stepPipeline, viewPipeline } from '../core/pipeline/pipeline.ts';
import type { SessionOptions, SwingTruth } from '../core/simulator/session-types.ts';
import { simulateSession } from '../core/simulator/simulate-session.ts';
import type { Swing } from '../core/swings/swing.ts';

/** How far one simulated set came from its truth. Metres and milliseconds. */
export interface Accuracy {
  readonly swings: number;
  readonly missed: number;
  readonly falseSwings: number;
  /** Found, but without a reach. */
  readonly voided: number;
  readonly reachMeanErrorM: number;
  readonly reachErrorSdM: number;
  /** Share of true reaches within the 95 % interval around the measured one. */
  readonly intervalCoverage: number;
  /** Funnel floor over the true SD of the measurement error, at 0, 50 and 100 %. */
  readonly floorRatios: readonly [number, number, number];
  /** True spread of reach at contact, for scale. */
  readonly trueSpreadM: number;
  /** Largest difference of the funnel from the truth at 0, 10, ... 100 %. */
  readonly funnelErrorM: number;
  /** Instants of those eleven at which it is off by more than both 15 % and 3 mm. */
  readonly funnelPointsOff: number;
  /** Contact time: SD and worst of its error about its mean. */
  readonly contactErrorSdMs: number;
  readonly contactErrorWorstMs: number;
}

/** Two contacts this close are the same, microseconds. */
const SAME_CONTACT_US = 100_000;

/** Runs one simulated set through the live pipeline and compares it with the simulator's truth. */
export function measureAccuracy(options: SessionOptions, params: PipelineParams): Accuracy {
  const session = simulateSession(options, {
    setId: `accuracy-${options.strategy}-${options.seed}`,
    startedAtMs: 0,
    programVersion: 'accuracy',
  });
  const state = createPipeline(session.description, params);
  for (const step of session.steps) if (step.kind === 'record') stepPipeline(state, step.record);
  const found = viewPipeline(state).swings.map((scored) => scored.swing);
  return compareWithTruth(found, session.truth.swings);
}

function compareWithTruth(found: readonly Swing[], truth: readonly SwingTruth[]): Accuracy {
  const pairs = truth.flatMap((t) => {
    const swing = found.find((s) => Math.abs(s.contactTimeUs - t.contactTimeUs) < SAME_CONTACT_US);
    return swing === undefined ? [] : [{ swing, truth: t }];
  });
  const read = pairs.filter((pair) => pair.swing.voidReason === null);
  const reachErrors = read.map((pair) => pair.swing.reachM - pair.truth.reachM);
  const covered = read.filter(
    (pair, i) => Math.abs(reachErrors[i]!) <= 1.96 * pair.swing.reachStandardErrorM,
  );
  const contactErrors = pairs.map(
    (pair) => (pair.swing.contactTimeUs - pair.truth.contactTimeUs) / 1000,
  );
  const funnel = Array.from({ length: 11 }, (_, i) => {
    const spread = standardDeviation(read.map((pair) => pair.swing.reachCurveM[10 * i]!));
    const truly = standardDeviation(read.map((pair) => pair.truth.reachCurveM[10 * i]!));
    return { off: Math.abs(spread - truly), truly };
  });
  return {
    swings: truth.length,
    missed: truth.length - pairs.length,
    falseSwings: found.length - pairs.length,
    voided: pairs.length - read.length,
    reachMeanErrorM: mean(reachErrors),
    reachErrorSdM: standardDeviation(reachErrors),
    intervalCoverage: covered.length / read.length,
    floorRatios: [floorRatio(read, 0), floorRatio(read, 50), floorRatio(read, 100)],
    trueSpreadM: standardDeviation(read.map((pair) => pair.truth.reachM)),
    funnelErrorM: Math.max(...funnel.map((point) => point.off)),
    funnelPointsOff: funnel.filter((p) => p.off > 0.003 && p.off > 0.15 * p.truly).length,
    contactErrorSdMs: standardDeviation(contactErrors),
    contactErrorWorstMs: Math.max(...contactErrors.map(Math.abs)),
  };
}

function floorRatio(
  pairs: readonly { readonly swing: Swing; readonly truth: SwingTruth }[],
  percent: number,
): number {
  const { floorM } = summariseFunnel(pairs.map((pair) => pair.swing));
  const errors = pairs.map((p) => p.swing.reachCurveM[percent]! - p.truth.reachCurveM[percent]!);
  return floorM[percent]! / standardDeviation(errors);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}

function standardDeviation(values: readonly number[]): number {
  const m = mean(values);
  return Math.sqrt(values.reduce((sum, v) => sum + (v - m) ** 2, 0) / (values.length - 1));
}
