import { SEGMENTS } from '../../src/core/arm/segments.ts';
import { decodeSensorInfo } from '../../src/core/packets/sensor-info.ts';
import { decodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import type { SetDescription } from '../../src/core/recording/set-description.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { NO_ERRORS } from '../../src/core/simulator/sensor-errors.ts';
import { simulateSession } from '../../src/core/simulator/simulate-session.ts';

const RATE_HZ = 200;

/** A simulated set, and the raw numbers of its sensors as rows of one table: all three sample at the same instants. */
export interface SimulatedTable {
  readonly description: SetDescription;
  readonly records: readonly SetRecord[];
  /** When the poses are asked for, seconds. */
  readonly zeroAtS: number;
  /** Seconds, then gyro rad/s and accel m/s^2 of upper arm, forearm and implement: 19 numbers. */
  readonly rows: readonly (readonly number[])[];
}

/** Perfect sensors, so that the set and the table differ by rounding alone. */
export function simulatedTable(swings: number, seed = 7): SimulatedTable {
  const session = simulateSession(
    {
      seed,
      strategy: 'distal',
      implement: 'short',
      ball: 'training',
      handedness: 'right',
      swings,
      swingIntervalS: 6,
      nominalRateHz: RATE_HZ,
      errors: { ...NO_ERRORS, delayMinMs: 0 },
    },
    { setId: 'simulated-table', startedAtMs: 1_700_000_000_000, programVersion: '0.1.0' },
  );
  const records = [...session.steps].flatMap((step) =>
    step.kind === 'record' ? [step.record] : [],
  );
  const columns = SEGMENTS.map((segment) => samplesOf(records, segment));
  const count = Math.min(...columns.map((samples) => samples.length));
  const zero = records.find(
    ({ kind, ...record }) =>
      kind === 'event' && 'event' in record && record.event.type === 'zero-requested',
  );
  return {
    description: session.description,
    records,
    zeroAtS: (zero?.hostTimeUs ?? 0) / 1e6,
    rows: Array.from({ length: count }, (_, i) => [
      i / RATE_HZ,
      ...columns.flatMap((samples) => samples[i]!),
    ]),
  };
}

function samplesOf(records: readonly SetRecord[], segment: string): number[][] {
  const samples: number[][] = [];
  let scales = [0, 0];
  for (const record of records) {
    if (record.kind === 'event' || record.segment !== segment) continue;
    if (record.kind === 'sensor-info') {
      const decoded = decodeSensorInfo(record.bytes);
      if (decoded.ok) scales = [decoded.info.gyroScaleRadS, decoded.info.accelScaleMS2];
      continue;
    }
    const decoded = decodeStreamPacket(record.bytes);
    if (!decoded.ok) throw new Error(decoded.fault.message);
    const raw = decoded.packet.samples;
    for (let at = 0; at < raw.length; at += 6) {
      samples.push([0, 1, 2, 3, 4, 5].map((axis) => raw[at + axis]! * scales[axis < 3 ? 0 : 1]!));
    }
  }
  return samples;
}

const KINDS = ['gyro', 'accel'] as const;

/** Names as another maker might choose them, with units: milliseconds, deg/s and g. */
export const ODD_HEADER: readonly string[] = [
  'Time [ms]',
  ...['Biceps', 'Wrist', 'Racquet'].flatMap((place) =>
    KINDS.flatMap((kind) =>
      ['X', 'Y', 'Z'].map((axis) =>
        kind === 'gyro' ? `${place} Gyr ${axis} (deg/s)` : `${place} Acc ${axis} (g)`,
      ),
    ),
  ),
];

/** The table with odd names, in milliseconds, deg/s and g. @param header to be changed for what is to go wrong */
export function oddCsv(
  { rows }: SimulatedTable,
  header: readonly string[] = ODD_HEADER,
  changed: (value: number, column: number) => number = toOddUnits,
): string {
  const lines = rows.map((row) =>
    row.map((value, column) => Number(changed(value, column).toPrecision(9))).join(';'),
  );
  return `${header.join(';')}\r\n${lines.join('\r\n')}\r\n`;
}

function toOddUnits(value: number, column: number): number {
  if (column === 0) return value * 1000;
  return (column - 1) % 6 < 3 ? (value * 180) / Math.PI : value / 9.80665;
}
