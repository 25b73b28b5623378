import { SEGMENTS } from '../arm/segments.ts';
import { readCondition } from './condition-json.ts';
import { asNumber, asObject, asOneOf, asText } from './json-shape.ts';
import type { SetEvent } from './set-record.ts';

const EVENT_TYPES = [
  'zero-requested',
  'score',
  'score-withdrawn',
  'discarded',
  'discard-withdrawn',
  'landed',
  'landing-withdrawn',
  'ends-moved',
  'ends-restored',
  'block-began',
  'note',
  'note-withdrawn',
  'cued',
  'shake-requested',
  'clock-ping',
  'packets-lost',
  'set-ended',
] as const satisfies readonly SetEvent['type'][];

const MAX_NOTE = 10_000;
/** No court is longer, metres. */
const MAX_LANDING_M = 100;
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
    case 'note-withdrawn':
      return { type, noteTimeUs: asNumber(from.noteTimeUs, 'noteTimeUs', 0, MAX_TIME_US) };
    case 'cued':
      return {
        type,
        contactTimeUs: readContactTime(from.contactTimeUs),
        cue: asOneOf(from.cue, 'the cue', ['tone', 'speech']),
      };
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
    case 'discarded':
      return {
        type,
        contactTimeUs: readContactTime(from.contactTimeUs),
        ...(from.reason === undefined
          ? {}
          : { reason: asText(from.reason, 'the reason', MAX_NOTE) }),
      };
    case 'landed':
      return {
        type,
        contactTimeUs: readContactTime(from.contactTimeUs),
        beyondM: asNumber(from.beyondM, 'beyondM', -MAX_LANDING_M, MAX_LANDING_M),
        leftM: asNumber(from.leftM, 'leftM', -MAX_LANDING_M, MAX_LANDING_M),
      };
    case 'ends-moved':
      return {
        type,
        contactTimeUs: readContactTime(from.contactTimeUs),
        startsAtUs: asNumber(from.startsAtUs, 'startsAtUs', 0, MAX_TIME_US),
        endsAtUs: asNumber(from.endsAtUs, 'endsAtUs', 0, MAX_TIME_US),
      };
    case 'block-began':
      return { type, condition: readCondition(from.condition, 'the condition') };
    case 'score-withdrawn':
    case 'discard-withdrawn':
    case 'landing-withdrawn':
    case 'ends-restored':
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
    reason: { type: 'string', description: 'why a swing was discarded' },
    beyondM: {
      type: 'number',
      description: 'landed so far beyond the middle of the target, metres',
    },
    leftM: { type: 'number', description: 'landed so far to the left of it, metres' },
    startsAtUs: {
      type: 'number',
      description: 'start of the swing as moved by hand, microseconds',
    },
    endsAtUs: { type: 'number', description: 'contact as moved by hand, microseconds' },
    condition: {
      type: 'object',
      description: 'implement, ball and feed of the block that begins; lengths in metres',
      properties: {
        implement: { type: 'string' },
        ball: { type: 'string' },
        feed: { type: 'string' },
        implementLengthM: { type: 'number' },
        implementSensorFromWristM: { type: 'number' },
      },
    },
    text: { type: 'string' },
    noteTimeUs: { type: 'number', description: 'when the note taken back was said, microseconds' },
    cue: { enum: ['tone', 'speech'], description: 'how the player was told of the reach' },
    segment: { enum: SEGMENTS },
    sentTimeUs: { type: 'number', description: 'when a clock ping was written, microseconds' },
    tick: { type: 'integer', description: "the sensor's answer to a clock ping" },
    firstSequence: { type: 'integer', description: 'first of the packets that were lost' },
    count: { type: 'integer', description: 'how many packets were lost' },
  },
  required: ['type'],
} as const;
