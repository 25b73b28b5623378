import type { Segment } from '../../../src/core/arm/segments.ts';
import { decodeSensorInfo } from '../../../src/core/packets/sensor-info.ts';
import { decodeStreamPacket, encodeStreamPacket } from '../../../src/core/packets/stream-packet.ts';
import type { SetRecord } from '../../../src/core/recording/set-record.ts';
import type { EmulatedSensor } from './emulated-sensor.ts';

/** What a set's file holds of one sensor against what that sensor made, as sequences. */
export interface Completeness {
  /** All that were made, in order. */
  readonly made: readonly number[];
  /** In the order of the file; a packet that is there twice is here twice. */
  readonly recorded: readonly number[];
  /** Of `recorded`, those not sent again. */
  readonly recordedFresh: readonly number[];
  /** Said by the file to be lost for good. */
  readonly markedLost: readonly number[];
  /** In the file with bytes other than those made (the flag that says it was sent again aside), or never made. */
  readonly different: readonly number[];
}

/** Sequences in the order in which the sensor made them; twice stays twice, what was never made comes first. */
export function inOrderMade(sequences: readonly number[], made: readonly number[]): number[] {
  const place = new Map(made.map((sequence, i) => [sequence, i]));
  return sequences.toSorted((a, b) => (place.get(a) ?? -1) - (place.get(b) ?? -1));
}

/** Compares byte by byte, with what the part of the sensor made, not with what its radio sent. */
export function compareWithMade(
  records: readonly SetRecord[],
  segment: Segment,
  sensor: EmulatedSensor,
): Completeness {
  const recorded: number[] = [];
  const recordedFresh: number[] = [];
  const markedLost: number[] = [];
  const different: number[] = [];
  for (const record of recordsOf(records, segment, sensor.serial)) {
    if (record.kind === 'event') {
      if (record.event.type === 'packets-lost') markedLost.push(...sequencesOf(record.event));
      continue;
    }
    const decoded = decodeStreamPacket(record.bytes);
    if (!decoded.ok) continue;
    const { sequence, resent } = decoded.packet;
    recorded.push(sequence);
    if (!resent) recordedFresh.push(sequence);
    const made = sensor.made.get(sequence);
    const isSame =
      made !== undefined && isEqual(encodeStreamPacket({ ...made.packet, resent }), record.bytes);
    if (!isSame) different.push(sequence);
  }
  return { made: [...sensor.made.keys()], recorded, recordedFresh, markedLost, different };
}

/** Records of one sensor: from its information on, until another sensor takes its place. */
function recordsOf(
  records: readonly SetRecord[],
  segment: Segment,
  serial: string,
): (SetRecord & { kind: 'notification' | 'event' })[] {
  let isItsTurn = false;
  return records.flatMap((record) => {
    if (record.kind === 'sensor-info' && record.segment === segment) {
      const decoded = decodeSensorInfo(record.bytes);
      isItsTurn = decoded.ok && decoded.info.serial === serial;
    }
    const of = record.kind === 'event' ? segmentOf(record) : record.segment;
    return isItsTurn && of === segment && record.kind !== 'sensor-info' ? [record] : [];
  });
}

function segmentOf({ event }: SetRecord & { kind: 'event' }): Segment | null {
  return 'segment' in event ? event.segment : null;
}

function sequencesOf({ firstSequence, count }: { firstSequence: number; count: number }): number[] {
  return Array.from({ length: count }, (_, i) => (firstSequence + i) & 0xffff);
}

function isEqual(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, i) => byte === b[i]);
}
