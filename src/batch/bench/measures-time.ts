import { cpuUsage } from 'node:process';
import { seededRandom } from '../../core/maths/random.ts';
import { usualThresholds } from '../../core/measures/accuracy-classes.ts';
import { measureFamilies, type SetMeasures } from '../../core/measures/measure-set.ts';
import type { MeasuredSwing } from '../../core/measures/measured-swing.ts';
import { addSwing, createRunningFunnel, funnelSoFar } from '../../core/measures/running-funnel.ts';
import { measuredSwings } from '../../core/pipeline/measured-swings.ts';
import { createPipeline, scoredSwings, stepPipeline } from '../../core/pipeline/pipeline.ts';
import { reviewSwings } from '../../core/pipeline/review.ts';
import { readDemo } from './demo-set.ts';

const FULL_POINTS = 10;
/** Goal of design.md section 13: all measures of 40 swings with 2000 resamples, milliseconds. */
export const MEASURES_GOAL_MS = 1500;
/** The first runs pay for the compiler; the quickest counts. */
const ROUNDS = 3;
const MOST_REPEATED = 160;

function demoSwings(): MeasuredSwing[] {
  const { description, records } = readDemo();
  const state = createPipeline(description);
  for (const record of records) stepPipeline(state, record);
  const readings = reviewSwings(state);
  return measuredSwings(readings, scoredSwings(state, readings), new Set([0]));
}

/** As many swings as wanted, drawn from those of a set, each a little different and scored by its reach. */
function swingsLike(swings: readonly MeasuredSwing[], n: number): MeasuredSwing[] {
  const random = seededRandom(1);
  const centreM = swings.reduce((sum, s) => sum + s.reachCurveM[100]!, 0) / swings.length;
  return Array.from({ length: n }, () => {
    const swing = swings[Math.floor(random.uniform(0, swings.length))]!;
    const offM = random.normal(0.002);
    const reachCurveM = swing.reachCurveM.map((reach) => reach + offM);
    const missed = Math.round(400 * Math.abs(reachCurveM[100]! - centreM) + random.uniform(-1, 1));
    const points = Math.min(FULL_POINTS, Math.max(0, FULL_POINTS + 2 - missed));
    return { ...swing, reachCurveM, points };
  });
}

/** Of this process so far, milliseconds: a busy machine does not count. */
function processorMs(): number {
  return cpuUsage().user / 1000;
}

/** Milliseconds of each family of measures, and of one more swing in the live funnel. */
function timesOf(swings: readonly MeasuredSwing[]): Map<string, number> {
  const times = new Map<string, number>();
  const thresholds = usualThresholds(FULL_POINTS);
  let began = processorMs();
  for (const part of measureFamilies({ swings, thresholds }, { seed: 1 })) {
    const now = processorMs();
    times.set(nameOf(part), now - began);
    began = now;
  }
  times.set(
    'all',
    [...times.values()].reduce((sum, ms) => sum + ms, 0),
  );
  const funnel = createRunningFunnel();
  began = processorMs();
  for (const swing of swings) {
    addSwing(funnel, swing);
    funnelSoFar(funnel);
  }
  times.set('live, one swing', (processorMs() - began) / swings.length);
  return times;
}

function nameOf(part: Partial<SetMeasures>): string {
  if ('score' in part) return 'score';
  if ('manifold' in part) return 'manifold';
  if ('accuracySplit' in part) return 'accuracy split';
  return 'funnel' in part ? 'funnel' : 'arm';
}

function quickest(swings: readonly MeasuredSwing[]): Map<string, number> {
  const rounds = swings.length > MOST_REPEATED ? 1 : ROUNDS;
  const all = Array.from({ length: rounds }, () => timesOf(swings));
  return all.reduce((best, times) => (times.get('all')! < best.get('all')! ? times : best));
}

/**
 * Processor milliseconds of each family of measures with 2000 resamples, by its name, then of all and of one more swing in the live
 * funnel; swings are drawn from those of the demo set.
 * @param counts how many swings
 * @returns in the order of `counts`
 */
export function* timeMeasures(counts: readonly number[]): Generator<Map<string, number>> {
  const swings = demoSwings();
  for (const n of counts) yield quickest(swingsLike(swings, n));
}
