import { MAX_STATURE_M, MIN_STATURE_M } from '../arm/segment-lengths.ts';
import { type PerSegment, SEGMENTS } from '../arm/segments.ts';
import { readCalibrations } from './calibration-json.ts';
import { asList, asNumber, asObject, asOneOf, asText, ShapeError } from './json-shape.ts';
import type { SetDescription } from './set-description.ts';

/** A set's id becomes a file name on every system, hence its narrow alphabet. */
const SET_ID = /^[A-Za-z0-9][A-Za-z0-9._-]{0,79}$/;
const MAX_TEXT = 200;
/** No arm segment, sensor offset or reach comes near this, metres. */
export const MAX_LENGTH_M = 5;
export const MIN_LENGTH_M = 0.01;
/** Latest instant a JavaScript date can hold (ECMA-262, time values). */
const MAX_DATE_MS = 8.64e15;

/**
 * Checks a description that came from outside (file, other thread, mapping).
 * @param value parsed JSON
 * @returns a new object with the known fields only; metres and milliseconds as in SetDescription
 * @throws ShapeError naming the first field that is missing or wrong
 */
export function readDescription(value: unknown): SetDescription {
  const from = asObject(value, 'the set description');
  const band = from.sweetSpotBand;
  return {
    setId: readSetId(from.setId),
    startedAtMs: asNumber(from.startedAtMs, 'startedAtMs', 0, MAX_DATE_MS),
    programVersion: asText(from.programVersion, 'programVersion', MAX_TEXT),
    source: asOneOf(from.source, 'source', ['sensors', 'simulated', 'imported']),
    player: asText(from.player, 'player', MAX_TEXT),
    handedness: asOneOf(from.handedness, 'handedness', ['left', 'right']),
    lengthsM: readLengths(from.lengthsM, 'lengthsM', MIN_LENGTH_M),
    ...readStature(from.armEstimatedFromStatureM),
    sensorFromJointM: readLengths(from.sensorFromJointM, 'sensorFromJointM', 0),
    ...(from.calibrations === undefined
      ? {}
      : { calibrations: readCalibrations(from.calibrations, 'calibrations') }),
    implement: asText(from.implement, 'implement', MAX_TEXT),
    ball: asText(from.ball, 'ball', MAX_TEXT),
    ...(from.feed === undefined ? {} : { feed: asText(from.feed, 'feed', MAX_TEXT) }),
    sweetSpotBand: band === null ? null : readBand(band),
    scoreSteps: asList(from.scoreSteps, 'scoreSteps', 100).map((step, i) =>
      asNumber(step, `scoreSteps[${i}]`, -1e6, 1e6),
    ),
  };
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

/** Files of before this field, and arms measured by tape, do not have it. */
function readStature(value: unknown): Pick<SetDescription, 'armEstimatedFromStatureM'> {
  if (value === undefined) return {};
  const where = 'armEstimatedFromStatureM';
  return { [where]: asNumber(value, where, MIN_STATURE_M, MAX_STATURE_M) };
}

function readBand(value: unknown): NonNullable<SetDescription['sweetSpotBand']> {
  const from = asObject(value, 'sweetSpotBand');
  return {
    reachM: asNumber(from.reachM, 'sweetSpotBand.reachM', 0, MAX_LENGTH_M),
    halfWidthM: asNumber(from.halfWidthM, 'sweetSpotBand.halfWidthM', 0, MAX_LENGTH_M),
  };
}
