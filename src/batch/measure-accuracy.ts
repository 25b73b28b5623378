import { summariseFunnel } from '../core/measures/funnel.ts';
import type { PipelineParams } from '../core/pipeline/params.ts';
import { createPipeline, stepPipeline } from '../core/pipeline/pipeline.ts';
import { reviewSwings } from '../core/pipeline/review.ts';
import type { SessionOptions, SwingTruth } from '../core/simulator/session-types.ts';
import { simulateSession } from '../core/simulator/simulate-session.ts';
import type { SwingReading } from '../core/swings/read-swing.ts';
import { describeAsTold, type Told } from './told-description.ts';

/** How far the reaches of one simulated set came from the truth. Metres; read live or in review. */
export interface ReachAccuracy {
  readonly meanErrorM: number;
  readonly errorSdM: number;
  /** Share of true reaches within the 95 % interval around the measured one. */
  readonly intervalCoverage: number;
  /** Mean square of floor and of the measurement error about its mean, at 0, 50 and 100 %: their ratio is the floor's. */
  readonly floors: readonly { readonly floorM2: number; readonly errorM2: number }[];
  /** Largest difference of the funnel from the truth at 0, 10, ... 100 %. */
  readonly funnelErrorM: number;
  /** Instants of those eleven at which it is off by more than both 15 % and 3 mm. */
  readonly funnelPointsOff: number;
}

/** How far one simulated set came from its truth. Metres and milliseconds. */
export interface Accuracy {
  readonly swings: number;
  readonly missed: number;
  readonly falseSwings: number;
  /** Found, but without a reach. */
  readonly voided: number;
  readonly live: ReachAccuracy;
  readonly review: ReachAccuracy;
  /** True spread of reach at contact, for scale. */
  readonly trueSpreadM: number;
  /** Contact time: SD and worst of its error. */
  readonly contactErrorSdMs: number;
  readonly contactErrorWorstMs: number;
}

/** Two contacts this close are the same, microseconds. */
const SAME_CONTACT_US = 100_000;

/**
 * Runs one simulated set through the pipeline and compares it, live and in review, with the simulator's truth.
 * @param told how what the pipeline is told differs from that truth
 */
export function measureAccuracy(
  options: SessionOptions,
  params: PipelineParams,
  told: Told,
): Accuracy {
  const session = simulateSession(options, {
    setId: `accuracy-${options.strategy}-${options.seed}`,
    startedAtMs: 0,
    programVersion: 'accuracy',
  });
  const state = createPipeline(describeAsTold(session.description, options, told), params);
  for (const step of session.steps) if (step.kind === 'record') stepPipeline(state, step.record);
  const live = state.swings.map(({ reading }) => reading);
  return compareWithTruth(live, reviewSwings(state), session.truth.swings);
}

function compareWithTruth(
  live: readonly SwingReading[],
  review: readonly SwingReading[],
  truth: readonly SwingTruth[],
): Accuracy {
  const found = pairUp(live, truth);
  const contactErrors = found.map(
    ({ reading, truth: t }) => (reading.swing.contactTimeUs - t.contactTimeUs) / 1000,
  );
  return {
    swings: truth.length,
    missed: truth.length - found.length,
    falseSwings: live.length - found.length,
    voided: found.filter(({ reading }) => reading.curves === null).length,
    live: reachAccuracy(found),
    review: reachAccuracy(pairUp(review, truth)),
    trueSpreadM: standardDeviation(found.map((pair) => pair.truth.reachM)),
    contactErrorSdMs: standardDeviation(contactErrors),
    contactErrorWorstMs: Math.max(...contactErrors.map(Math.abs)),
  };
}

interface Pair {
  readonly reading: SwingReading;
  readonly truth: SwingTruth;
}

function pairUp(readings: readonly SwingReading[], truth: readonly SwingTruth[]): Pair[] {
  return truth.flatMap((t) => {
    const reading = readings.find(
      ({ swing }) => Math.abs(swing.contactTimeUs - t.contactTimeUs) < SAME_CONTACT_US,
    );
    return reading === undefined ? [] : [{ reading, truth: t }];
  });
}

function reachAccuracy(pairs: readonly Pair[]): ReachAccuracy {
  const read = pairs.flatMap(({ reading: { swing, curves }, truth }) =>
    curves === null ? [] : [{ swing, curves, truth }],
  );
  const errors = read.map((pair) => pair.swing.reachM - pair.truth.reachM);
  const covered = read.filter(
    ({ swing }, i) => Math.abs(errors[i]!) <= 1.96 * swing.reachStandardErrorM,
  );
  const funnel = Array.from({ length: 11 }, (_, i) => {
    const spread = standardDeviation(read.map((pair) => pair.curves.reachCurveM[10 * i]!));
    const truly = standardDeviation(read.map((pair) => pair.truth.reachCurveM[10 * i]!));
    return { off: Math.abs(spread - truly), truly };
  });
  const { floorM } = summariseFunnel(read.map((pair) => pair.curves));
  return {
    meanErrorM: mean(errors),
    errorSdM: standardDeviation(errors),
    intervalCoverage: covered.length / read.length,
    floors: [0, 50, 100].map((percent) => {
      const off = read.map(
        (pair) => pair.curves.reachCurveM[percent]! - pair.truth.reachCurveM[percent]!,
      );
      return { floorM2: floorM[percent]! ** 2, errorM2: standardDeviation(off) ** 2 };
    }),
    funnelErrorM: Math.max(...funnel.map((point) => point.off)),
    funnelPointsOff: funnel.filter((p) => p.off > 0.003 && p.off > 0.15 * p.truly).length,
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}

function standardDeviation(values: readonly number[]): number {
  const m = mean(values);
  return Math.sqrt(values.reduce((sum, v) => sum + (v - m) ** 2, 0) / (values.length - 1));
}
