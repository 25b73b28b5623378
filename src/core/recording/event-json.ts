import { SEGMENTS } from '../arm/segments.ts';
import { asNumber, asObject, asOneOf, asText } from './json-shape.ts';
import type { SetEvent } from './set-record.ts';

const EVENT_TYPES = [
  'zero-requested',
  'score',
  'score-withdrawn',
  'discarded',
  'discard-withdrawn',
  'note',
  'shake-requested',
  'clock-ping',
  'packets-lost',
  'set-ended',
] as const satisfies readonly SetEvent['type'][];

const MAX_NOTE = 10_000;
const MAX_TIME_US = Number.MAX_SAFE_INTEGER;

/**
 * Checks an event that came from outside.
 * @param value parsed JSON
 * @returns a new object with the known fields only
 * @throws ShapeError naming the first field that is missing or wrong
 */
export function readEvent(value: unknown): SetEvent {
  const from = asObject(value, 'the event');
  const type = asOneOf(from.type, 'the event type', EVENT_TYPES);
  switch (type) {
    case 'zero-requested':
    case 'shake-requested':
    case 'set-ended':
      return { type };
    case 'note':
      return { type, text: asText(from.text, 'the text of the note', MAX_NOTE) };
    case 'score':
      return {
        type,
        contactTimeUs: readContactTime(from.contactTimeUs),
        points: asNumber(from.points, 'the points', -1e6, 1e6),
      };
    case 'clock-ping':
      return {
        type,
        segment: asOneOf(from.segment, 'the segment', SEGMENTS),
        sentTimeUs: asNumber(from.sentTimeUs, 'sentTimeUs', 0, MAX_TIME_US),
        tick: asNumber(from.tick, 'the tick', 0, 2 ** 32 - 1),
      };
    case 'packets-lost':
      return {
        type,
        segment: asOneOf(from.segment, 'the segment', SEGMENTS),
        firstSequence: asNumber(from.firstSequence, 'firstSequence', 0, 0xffff),
        count: asNumber(from.count, 'the count', 1, 0x10000),
      };
    case 'score-withdrawn':
    case 'discarded':
    case 'discard-withdrawn':
      return { type, contactTimeUs: readContactTime(from.contactTimeUs) };
  }
}

function readContactTime(value: unknown): number {
  return asNumber(value, 'contactTimeUs', 0, MAX_TIME_US);
}

/** JSON Schema of one event, stored in every set file for readers other than this program. */
export const EVENT_SCHEMA = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  title: 'SetEvent',
  type: 'object',
  properties: {
    type: { enum: EVENT_TYPES },
    contactTimeUs: {
      type: 'number',
      description: 'contact of the swing meant, microseconds since the start of the set',
    },
    points: { type: 'number' },
    text: { type: 'string' },
    segment: { enum: SEGMENTS },
    sentTimeUs: { type: 'number', description: 'when a clock ping was written, microseconds' },
    tick: { type: 'integer', description: "the sensor's answer to a clock ping" },
    firstSequence: { type: 'integer', description: 'first of the packets that were lost' },
    count: { type: 'integer', description: 'how many packets were lost' },
  },
  required: ['type'],
} as const;
