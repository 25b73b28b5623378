/** Data from outside does not have the shape it must have; `message` names the place and the rule. */
export class ShapeError extends Error {
  override readonly name = 'ShapeError';
}

/** A JSON object whose values are not checked yet. */
export type JsonObject = Readonly<Record<string, unknown>>;

/**
 * Parses JSON.
 * @param text what should be JSON
 * @param where name of the text for the message
 * @throws ShapeError when it is not JSON
 */
export function parseJson(text: string, where: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch (error) {
    throw new ShapeError(`${where} is not JSON: ${error instanceof Error ? error.message : error}`);
  }
}

/**
 * The value as an object.
 * @throws ShapeError when it is anything else, `null` and arrays included
 */
export function asObject(value: unknown, where: string): JsonObject {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    throw new ShapeError(`${where} must be an object, found ${named(value)}`);
  }
  return value as JsonObject;
}

/**
 * The value as a list.
 * @param maxLength longest list allowed
 * @throws ShapeError when it is no list or too long
 */
export function asList(value: unknown, where: string, maxLength: number): readonly unknown[] {
  if (!Array.isArray(value) || value.length > maxLength) {
    throw new ShapeError(`${where} must be a list of at most ${maxLength}, found ${named(value)}`);
  }
  return value;
}

/**
 * The value as text.
 * @param maxLength longest text allowed, UTF-16 units
 * @throws ShapeError when it is no text or too long
 */
export function asText(value: unknown, where: string, maxLength: number): string {
  if (typeof value !== 'string' || value.length > maxLength) {
    throw new ShapeError(
      `${where} must be text of at most ${maxLength} characters, found ${named(value)}`,
    );
  }
  return value;
}

/**
 * The value as a finite number within bounds, both included.
 * @throws ShapeError when it is no such number
 */
export function asNumber(value: unknown, where: string, min: number, max: number): number {
  if (typeof value !== 'number' || !(value >= min && value <= max)) {
    throw new ShapeError(`${where} must be a number from ${min} to ${max}, found ${named(value)}`);
  }
  return value;
}

/**
 * The value as one of a closed set of words.
 * @throws ShapeError when it is none of them, listing them all
 */
export function asOneOf<T extends string>(value: unknown, where: string, words: readonly T[]): T {
  const found = words.find((word) => word === value);
  if (found === undefined) {
    throw new ShapeError(`${where} must be one of ${words.join(', ')}; found ${named(value)}`);
  }
  return found;
}

/** Short enough for a message even when the value is hostile: nested a million deep, megabytes long. */
function named(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'object' && value !== null) return 'an object';
  if (typeof value !== 'string') return String(value);
  const quoted = JSON.stringify(value.slice(0, 60));
  return quoted.length > 60 ? `${quoted.slice(0, 57)}...` : quoted;
}
