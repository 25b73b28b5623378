import { SEGMENT_WORDS, SEGMENTS } from '../core/arm/segments.ts';
import { EXPORTED_MEASURES } from '../core/exports/measure-columns.ts';
import type { SetRow } from '../core/exports/set-row.ts';
import { unavailableWords } from '../core/measures/thresholds.ts';
import { isUnavailable } from '../core/statistics/estimate.ts';
import { METHOD_SOURCES, METHODS } from './measure-methods.ts';
import { conditionOf, type ReportedSet, swingsOf } from './reported-set.ts';
import { leftOutReasons } from './void-words.ts';

/** The page of a report with every number. All cells are words, units in their own column. */
export interface NumbersReport {
  readonly measures: readonly MeasureLine[];
  /** Name and value, units in the value. */
  readonly quality: readonly (readonly [name: string, value: string])[];
  readonly sensors: readonly SensorLine[];
  readonly limits: readonly string[];
  readonly sources: readonly string[];
}

/** One measure; without a value, `interval` says why and how many swings are lacking. */
export interface MeasureLine {
  readonly meaning: string;
  readonly value: string;
  readonly interval: string;
  readonly n: string;
  readonly unit: string;
  readonly method: string;
}

export interface SensorLine {
  readonly name: string;
  readonly rateHz: string;
  readonly lostPackets: string;
  readonly clippedSamples: string;
  readonly clockMs: string;
  readonly delaySpreadMs: string;
}

/** What is not known is never shown as a number. */
const UNKNOWN = '–';

/** Units as people read them, and how many of them make one of the SI. */
const SHOWN_UNITS: Readonly<Record<string, { unit: string; scale: number; digits: number }>> = {
  m: { unit: 'cm', scale: 100, digits: 1 },
  rad: { unit: '°', scale: 180 / Math.PI, digits: 0 },
  'rad^2': { unit: 'square °', scale: (180 / Math.PI) ** 2, digits: 0 },
};
const PURE_NUMBER = { unit: '1', scale: 1, digits: 2 };

/**
 * A set in numbers: every exported measure with interval, n, unit and method, what the data are worth, limits and
 * sources. Checked: tests/reports/numbers-report.test.ts
 */
export function numbersReport(set: ReportedSet): NumbersReport {
  return {
    measures: measureLines(set),
    quality: qualityLines(set),
    sensors: sensorLines(set),
    limits: [
      'Intervals are 95 %, each by itself: of twenty measures, one interval misses the truth on average.',
      'Spread (SD) includes the measurement floor. Below or near the floor it is measurement, not movement.',
      'Sensor errors shift all reaches of a set alike by up to about 1 cm, poses held 2° off by up to 1.2 cm: reach is not compared between days to the centimetre.',
      'Soft tissue under the sensors adds error that the floor does not hold (with 3° of wobble the floor is half of it).',
      'Swings are taken as independent of each other; a player who wanders slowly makes intervals too short.',
      'Read with hindsight: reaches may be some millimetres off those seen live.',
    ],
    sources: [
      ...METHOD_SOURCES,
      'Reach and scaled kit: Sci Rep 10, 2020, doi 10.1038/s41598-020-77627-5 and 10.1038/s41598-020-59475-5',
    ],
  };
}

function measureLines(set: ReportedSet): MeasureLine[] {
  const row: SetRow = {
    description: set.description,
    condition: conditionOf(set),
    blocks: set.blocks,
    blockCount: set.view.blocks.length,
    view: set.view,
    swings: swingsOf(set),
    measures: set.measures,
    file: null,
  };
  return EXPORTED_MEASURES.map(({ name, unit: si, meaning, of }) => {
    const answer = of(row);
    const { unit, scale, digits } = (si === null ? undefined : SHOWN_UNITS[si]) ?? unitOf(name);
    const head = { meaning, unit, method: METHODS[name] ?? '' };
    if (isUnavailable(answer))
      return { ...head, value: UNKNOWN, interval: unavailableWords(answer), n: UNKNOWN };
    const print = (value: number) => fixed(scale * value, digits);
    return {
      ...head,
      value: print(answer.value),
      interval: `${print(answer.low)} to ${print(answer.high)}`,
      n: String(answer.n),
    };
  });
}

/** Points are counted, shares read best in per cent, ratios and correlations are pure numbers. */
function unitOf(name: string) {
  if (name === 'score_mean') return { unit: 'points', scale: 1, digits: 1 };
  return /share|hit_rate/.test(name) ? { unit: '%', scale: 100, digits: 0 } : PURE_NUMBER;
}

function qualityLines(set: ReportedSet): (readonly [string, string])[] {
  const { description, view, measures } = set;
  const { zero, shake } = view;
  const swings = swingsOf(set);
  const reasons = leftOutReasons(swings);
  const errors = swings.flatMap(({ swing }) =>
    Number.isFinite(swing.reachStandardErrorM) ? [100 * swing.reachStandardErrorM] : [],
  );
  const { upperArm, forearm } = description.lengthsM;
  const { implementLengthM } = conditionOf(set);
  const cm = (metres: number) => fixed(100 * metres, 1);
  return [
    ['Swings', `${swings.length} found, ${measures.n} count`],
    ['Left out', reasons.length === 0 ? 'none' : reasons.join('; ')],
    ['Measurement floor at contact', `${cm(view.funnel.floorM.at(-1)!)} cm (1 SD)`],
    [
      'Standard error of a reach',
      errors.length === 0
        ? UNKNOWN
        : `${fixed(Math.min(...errors), 2)} to ${fixed(Math.max(...errors), 2)} cm`,
    ],
    [
      'Zeroing',
      zero.phase === 'zeroed'
        ? `both poses held, last ${fixed(zero.atTimeUs / 6e7, 1)} min into the set`
        : `not zeroed${zero.phase === 'not-started' && zero.problem !== null ? `: ${zero.problem}` : ''}`,
    ],
    [
      'Clocks aligned by shaking',
      shake.phase === 'aligned'
        ? `yes, lags ${fixed(shake.elbowLagMs, 1)} and ${fixed(shake.wristLagMs, 1)} ms`
        : 'no',
    ],
    [
      'Upper arm, forearm, wrist to sweet spot',
      `${cm(upperArm)}, ${cm(forearm)}, ${cm(implementLengthM)} cm${description.armEstimatedFromStatureM === undefined ? '' : ' (arm estimated from stature)'}`,
    ],
    ['Bench-calibrated sensors', String(description.calibrations?.length ?? 0)],
    ['Program version', description.programVersion],
    ['Set', description.setId],
  ];
}

function sensorLines({ view }: ReportedSet): SensorLine[] {
  return SEGMENTS.map((segment) => {
    const health = view.sensors[segment];
    const sent = health.packets + health.lostPackets;
    return {
      name: SEGMENT_WORDS[segment],
      rateHz: fixed(health.rateHz, 1),
      lostPackets: `${health.lostPackets} of ${sent}`,
      clippedSamples: String(health.clippedSamples),
      clockMs: fixed(health.clockHalfWidthMs, 2),
      delaySpreadMs: fixed(health.delaySpreadMs, 1),
    };
  });
}

function fixed(value: number, digits: number): string {
  if (!Number.isFinite(value)) return UNKNOWN;
  // No minus before a nothing, else a true minus sign.
  const text = value.toFixed(digits);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}
