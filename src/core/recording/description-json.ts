import { MAX_STATURE_M, MIN_STATURE_M } from '../arm/segment-lengths.ts';
import { type PerSegment, SEGMENTS } from '../arm/segments.ts';
import { readCalibrations } from './calibration-json.ts';
import { MAX_LENGTH_M, MIN_LENGTH_M, readSweetSpotBand } from './condition-json.ts';
import { firstCondition } from './conditions.ts';
import {
  asList,
  asNumber,
  asObject,
  asOneOf,
  asText,
  type JsonObject,
  ShapeError,
} from './json-shape.ts';
import { MAX_DATE_MS, readPlan } from './plan-json.ts';
import type { SetDescription } from './set-description.ts';
import type { SetPlan } from './set-plan.ts';
import type { Condition } from './set-record.ts';

/** A set's id becomes a file name on every system, hence its narrow alphabet. */
const SET_ID = /^[A-Za-z0-9][A-Za-z0-9._-]{0,79}$/;
const MAX_TEXT = 200;

/**
 * Checks a description that came from outside (file, other thread, mapping).
 * @param value parsed JSON
 * @returns a new object with the known fields only; metres and milliseconds as in SetDescription
 * @throws ShapeError naming the first field that is missing or wrong
 */
export function readDescription(value: unknown): SetDescription {
  const from = asObject(value, 'the set description');
  const described: SetDescription = {
    setId: readSetId(from.setId),
    startedAtMs: asNumber(from.startedAtMs, 'startedAtMs', 0, MAX_DATE_MS),
    programVersion: asText(from.programVersion, 'programVersion', MAX_TEXT),
    source: asOneOf(from.source, 'source', ['sensors', 'simulated', 'imported']),
    player: asText(from.player, 'player', MAX_TEXT),
    ...(from.consentOn === undefined ? {} : { consentOn: readDay(from.consentOn, 'consentOn') }),
    handedness: asOneOf(from.handedness, 'handedness', ['left', 'right']),
    ...readStature(from, 'statureM'),
    lengthsM: readLengths(from.lengthsM, 'lengthsM', MIN_LENGTH_M),
    ...readStature(from, 'armEstimatedFromStatureM'),
    sensorFromJointM: readLengths(from.sensorFromJointM, 'sensorFromJointM', 0),
    ...(from.calibrations === undefined
      ? {}
      : { calibrations: readCalibrations(from.calibrations, 'calibrations') }),
    implement: asText(from.implement, 'implement', MAX_TEXT),
    ball: asText(from.ball, 'ball', MAX_TEXT),
    ...(from.feed === undefined ? {} : { feed: asText(from.feed, 'feed', MAX_TEXT) }),
    sweetSpotBand: readSweetSpotBand(from.sweetSpotBand),
    scoreSteps: readScoreSteps(from.scoreSteps),
  };
  return from.plan === undefined ? described : { ...described, plan: planOf(described, from.plan) };
}

/** A plan that begins with another condition than its set would let the screen name the wrong kit. */
function planOf(described: SetDescription, value: unknown): SetPlan {
  const plan = readPlan(value);
  const planned = plan.conditions[plan.blocks[0]!]!;
  const begun = firstCondition(described);
  const names = Object.keys(begun) as (keyof Condition)[];
  const different = names.find(
    (name) => JSON.stringify(planned[name]) !== JSON.stringify(begun[name]),
  );
  if (different !== undefined) {
    throw new ShapeError(
      `the first block of the plan must be swung as the set begins, but its ${different} is ${JSON.stringify(planned[different])}, not ${JSON.stringify(begun[different])}`,
    );
  }
  return plan;
}

/**
 * Checks the name of a set, which is also the name of its file.
 * @throws ShapeError unless it is 1 to 80 letters, digits, dots, dashes or underscores
 */
export function readSetId(value: unknown): string {
  const setId = asText(value, 'setId', 80);
  if (!SET_ID.test(setId)) {
    throw new ShapeError(
      `setId must be letters, digits, '.', '-' or '_' and start with a letter or digit, found ${JSON.stringify(setId)}`,
    );
  }
  return setId;
}

function readLengths(value: unknown, where: string, minM: number): PerSegment<number> {
  const from = asObject(value, where);
  const [upperArm, forearm, implement] = SEGMENTS.map((segment) =>
    asNumber(from[segment], `${where}.${segment}`, minM, MAX_LENGTH_M),
  ) as [number, number, number];
  return { upperArm, forearm, implement };
}

/** Files of before these fields do not have them, nor those of arms measured by tape the second. */
function readStature<Name extends 'statureM' | 'armEstimatedFromStatureM'>(
  from: JsonObject,
  name: Name,
): { readonly [K in Name]?: number } {
  if (from[name] === undefined) return {};
  const statureM = asNumber(from[name], name, MIN_STATURE_M, MAX_STATURE_M);
  return { [name]: statureM } as { readonly [K in Name]: number };
}

/**
 * Checks a day.
 * @returns year-month-day as it was
 * @throws ShapeError unless it is a day of the calendar written as in 2026-05-31 (ISO 8601-1, extended format)
 */
function readDay(value: unknown, where: string): string {
  const day = asText(value, where, 10);
  // 30 February would become a day of March.
  const isDay = /^\d{4}-\d{2}-\d{2}$/.test(day) && isoDay(Date.parse(day)) === day;
  if (!isDay) {
    throw new ShapeError(
      `${where} must be a day written year-month-day, as in 2026-05-31; found ${JSON.stringify(day)}`,
    );
  }
  return day;
}

function isoDay(timeMs: number): string | null {
  return Number.isNaN(timeMs) ? null : new Date(timeMs).toISOString().slice(0, 10);
}

/**
 * Checks the points a ball can score.
 * @throws ShapeError naming the step that is wrong
 */
export function readScoreSteps(value: unknown): readonly number[] {
  return asList(value, 'scoreSteps', 100).map((step, i) =>
    asNumber(step, `scoreSteps[${i}]`, -1e6, 1e6),
  );
}
