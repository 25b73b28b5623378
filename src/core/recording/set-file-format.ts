import { SEGMENTS, type Segment } from '../arm/segments.ts';
import type { SetRecord } from './set-record.ts';

/** Names and numbers of recorded-streams/FORMAT.md, shared by writer and reader. */
export const SET_PROFILE = 'reach-funnel';
export const FORMAT_VERSION = '1';
export const METADATA_NAME = 'set';
export const EVENT_SCHEMA_ID = 1;

/** What one channel of a set file carries. */
export type SetChannel =
  | { readonly kind: 'notification' | 'sensor-info'; readonly segment: Segment }
  | { readonly kind: 'event' };

/** All channels, in the order of their ids, which start at 1. */
export const SET_CHANNELS: readonly SetChannel[] = [
  ...SEGMENTS.map((segment) => ({ kind: 'notification', segment }) as const),
  ...SEGMENTS.map((segment) => ({ kind: 'sensor-info', segment }) as const),
  { kind: 'event' },
];

/**
 * Name of a channel in the file, for instance `notification/upperArm` or `event`.
 */
export function topicOf(channel: SetChannel): string {
  return channel.kind === 'event' ? 'event' : `${channel.kind}/${channel.segment}`;
}

/**
 * The record with its time as the file can hold it: whole nanoseconds, not before the set's start.
 * The live pipeline must step through this form, so that a later reading of the file gives it
 * identical numbers.
 * @throws RangeError when the time is not a number or beyond 104 days
 */
export function atFileTime(record: SetRecord): SetRecord {
  const hostTimeUs = Number(fileTimeNs(record.hostTimeUs)) / 1000;
  return hostTimeUs === record.hostTimeUs ? record : { ...record, hostTimeUs };
}

/**
 * Host time as stored.
 * @param hostTimeUs microseconds since the start of the set; earlier times count as the start
 * @returns nanoseconds since the start of the set
 * @throws RangeError when it is not a number or beyond 104 days
 */
export function fileTimeNs(hostTimeUs: number): bigint {
  const ns = Math.max(0, Math.round(hostTimeUs * 1000));
  if (!Number.isSafeInteger(ns)) {
    throw new RangeError(
      `a record's host time must be microseconds since the start, got ${hostTimeUs}`,
    );
  }
  return BigInt(ns);
}
