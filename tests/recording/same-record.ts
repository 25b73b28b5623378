import type { SetRecord } from '../../src/core/recording/set-record.ts';

/** Whether two records are the same byte for byte; quicker than `toEqual` where there are millions. */
export function isSameRecord(a: SetRecord, b: SetRecord): boolean {
  if (a.kind !== b.kind || a.hostTimeUs !== b.hostTimeUs) return false;
  if (a.kind === 'event') return JSON.stringify(a) === JSON.stringify(b);
  return b.kind !== 'event' && a.segment === b.segment && Buffer.compare(a.bytes, b.bytes) === 0;
}
