import { asNumber, asObject, asText } from './json-shape.ts';
import type { Condition, SweetSpotBand } from './set-record.ts';

/** No arm segment, sensor offset or reach comes near this, metres. */
export const MAX_LENGTH_M = 5;
export const MIN_LENGTH_M = 0.01;
const MAX_NAME = 200;

/**
 * Checks a condition that came from outside.
 * @param value parsed JSON
 * @param where name of the condition for the message
 * @returns a new object with the known fields only, lengths in metres
 * @throws ShapeError naming the first field that is missing or wrong
 */
export function readCondition(value: unknown, where: string): Condition {
  const from = asObject(value, where);
  const length = (name: 'implementLengthM' | 'implementSensorFromWristM', least: number) =>
    asNumber(from[name], `${name} of ${where}`, least, MAX_LENGTH_M);
  return {
    implement: asText(from.implement, `the implement of ${where}`, MAX_NAME),
    ball: asText(from.ball, `the ball of ${where}`, MAX_NAME),
    feed: asText(from.feed, `the feed of ${where}`, MAX_NAME),
    implementLengthM: length('implementLengthM', MIN_LENGTH_M),
    implementSensorFromWristM: length('implementSensorFromWristM', 0),
    // files of before this field do not have it
    sweetSpotBand: readSweetSpotBand(from.sweetSpotBand ?? null),
  };
}

/**
 * Checks a sweet-spot band, metres; null while nobody knows one.
 * @throws ShapeError naming the field that is wrong
 */
export function readSweetSpotBand(value: unknown): SweetSpotBand | null {
  if (value === null) return null;
  const from = asObject(value, 'sweetSpotBand');
  return {
    reachM: asNumber(from.reachM, 'sweetSpotBand.reachM', 0, MAX_LENGTH_M),
    halfWidthM: asNumber(from.halfWidthM, 'sweetSpotBand.halfWidthM', 0, MAX_LENGTH_M),
  };
}
