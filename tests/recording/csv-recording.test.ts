import { readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { SEGMENTS, type Segment } from '../../src/core/arm/segments.ts';
import { decodeSensorInfo } from '../../src/core/packets/sensor-info.ts';
import { decodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import { CsvError } from '../../src/core/recording/csv-error.ts';
import { readCsvMapping } from '../../src/core/recording/csv-mapping.ts';
import { type CsvRecording, recordingFromCsv } from '../../src/core/recording/csv-recording.ts';
import { ShapeError } from '../../src/core/recording/json-shape.ts';
import { openDataFile } from '../open-data.ts';

const baseMapping = {
  time: 't',
  gyroUnit: 'rad/s',
  accelUnit: 'm/s^2',
  sensors: {
    upperArm: { gyro: 'u_g', accel: 'u_a' },
    forearm: { gyro: ['f_gx', 'f_gy', 'f_gz'], accel: 'f_a' },
    implement: { gyro: 'i_g', accel: 'i_a' },
  },
  lengthsM: { upperArm: 0.3, forearm: 0.25, implement: 0.5 },
  sensorFromJointM: { upperArm: 0.2, forearm: 0.2, implement: 0.1 },
};

const COLUMNS = [
  't',
  ...['u', 'f', 'i'].flatMap((s) => ['gx', 'gy', 'gz', 'ax', 'ay', 'az'].map((a) => `${s}_${a}`)),
];

/** Invented, smooth, different in every column. */
function value(row: number, column: number): number {
  return (column % 6 < 3 ? 8 : 15) * Math.sin(0.05 * row * (1 + column / 10) + column);
}

function table(rows: number, change: (cells: string[], row: number) => string[] | null = (c) => c) {
  const lines = [COLUMNS.join(',')];
  for (let row = 0; row < rows; row++) {
    const cells = [(5 + row / 100).toFixed(3)];
    for (let column = 0; column < 18; column++) cells.push(value(row, column).toFixed(9));
    const changed = change(cells, row);
    if (changed !== null) lines.push(changed.join(','));
  }
  return `${lines.join('\n')}\n`;
}

function load(text: string, change: object = {}): CsvRecording {
  return recordingFromCsv(text, readCsvMapping({ ...baseMapping, ...change }, '0.1.0'));
}

/** The samples of one sensor as the pipeline would see them, SI, with times from ticks. */
function samplesOf(recording: CsvRecording, segment: Segment) {
  let scales = [0, 0];
  const times: number[] = [];
  const values: number[] = [];
  const flags: boolean[] = [];
  const arrivals: number[] = [];
  for (const record of recording.records) {
    if (record.kind === 'event' || record.segment !== segment) continue;
    if (record.kind === 'sensor-info') {
      const result = decodeSensorInfo(record.bytes);
      if (!result.ok) throw new Error(result.fault.message);
      expect(result.info.tickHz).toBe(1_000_000);
      scales = [result.info.gyroScaleRadS, result.info.accelScaleMS2];
      continue;
    }
    const result = decodeStreamPacket(record.bytes);
    if (!result.ok) throw new Error(result.fault.message);
    const { samples, firstTick, spanTicks, dropped } = result.packet;
    const count = samples.length / 6;
    flags.push(dropped);
    arrivals.push(record.hostTimeUs);
    for (let i = 0; i < count; i++) {
      times.push(firstTick + (count === 1 ? 0 : (spanTicks * i) / (count - 1)));
      for (let axis = 0; axis < 6; axis++) {
        values.push(samples[6 * i + axis]! * scales[axis < 3 ? 0 : 1]!);
      }
    }
  }
  return { times, values, flags, arrivals, scales };
}

function codeOf(run: () => unknown): { code: string; message: string } {
  try {
    run();
  } catch (error) {
    if (error instanceof CsvError) return { code: error.code, message: error.message };
    throw error;
  }
  throw new Error('nothing was thrown');
}

describe('recordingFromCsv', () => {
  it('keeps every sample within half a unit, 1/64 000 of the largest value', () => {
    const recording = load(table(205));
    for (const segment of SEGMENTS) {
      const { times, values } = samplesOf(recording, segment);
      expect(times).toEqual(Array.from({ length: 205 }, (_, row) => row * 10_000));
      const first = 6 * SEGMENTS.indexOf(segment);
      for (const [offset, largest] of [
        [0, 8],
        [3, 15],
      ] as const) {
        for (let row = 0; row < 205; row++) {
          for (let axis = 0; axis < 3; axis++) {
            const error = values[6 * row + offset + axis]! - value(row, first + offset + axis);
            // Half a unit of int16, and 1e-9 for the nine decimals of the table.
            expect(Math.abs(error)).toBeLessThanOrEqual(largest / 64_000 + 1e-9);
          }
        }
      }
    }
  });

  it('orders packets by arrival, ten samples each, after the sensor information', () => {
    const { records } = load(table(40));
    expect(records.slice(0, 3).map((record) => record.kind)).toEqual(Array(3).fill('sensor-info'));
    const arrivals = records.map((record) => record.hostTimeUs);
    expect(arrivals).toEqual([...arrivals].sort((a, b) => a - b));
    // Last sample of each packet of ten at 100 Hz.
    expect(samplesOf(load(table(40)), 'forearm').arrivals).toEqual([90e3, 190e3, 290e3, 390e3]);
    expect(records.at(-1)).toEqual({
      kind: 'event',
      hostTimeUs: 390e3,
      event: { type: 'set-ended' },
    });
  });

  it('converts degrees per second, g and milliseconds', () => {
    const inSi = samplesOf(load(table(60)), 'implement');
    const text = table(60, (cells) =>
      cells.map((cell, i) => {
        if (i === 0) return String(Number(cell) * 1000);
        return String(Number(cell) * ((i - 1) % 6 < 3 ? 180 / Math.PI : 1 / 9.80665));
      }),
    );
    const units = { timeUnit: 'ms', gyroUnit: 'deg/s', accelUnit: 'g' };
    const converted = samplesOf(load(text, units), 'implement');
    expect(converted.times).toEqual(inSi.times);
    converted.values.forEach((converted, i) => {
      expect(Math.abs(converted - inSi.values[i]!)).toBeLessThan(15 / 32_000);
    });
  });

  it('leaves rows without a value out for that sensor only, and marks the gap', () => {
    const text = table(60, (cells, row) => {
      if (row >= 13 && row < 17) cells[8] = row % 2 === 0 ? 'NaN' : '';
      return cells;
    });
    const recording = load(text);
    expect(samplesOf(recording, 'upperArm').times.length).toBe(60);
    const { times, flags, arrivals } = samplesOf(recording, 'forearm');
    expect(times).toEqual(
      Array.from({ length: 60 }, (_, row) => row * 10_000).filter((us) => us < 130e3 || us > 160e3),
    );
    // Packets end at 90 ms and 120 ms; the third begins behind the gap.
    expect(arrivals.slice(0, 2)).toEqual([90e3, 120e3]);
    expect(flags.slice(0, 4)).toEqual([false, false, true, false]);
  });

  it('keeps uneven times within a tenth of a period', () => {
    const us = (row: number) => row * 10_000 + [0, 2500, -1800, 900][row % 4]!;
    const text = table(80, (cells, row) => [(us(row) / 1e6).toFixed(6), ...cells.slice(1)]);
    const { times } = samplesOf(load(text), 'upperArm');
    expect(times.length).toBe(80);
    times.forEach((time, row) => {
      expect(Math.abs(time - us(row))).toBeLessThanOrEqual(1000);
    });
  });

  it('wraps the tick after 2^32 microseconds', () => {
    const text = table(20, (cells, row) => [
      String(row < 10 ? row / 100 : 4294.96 + row / 100),
      ...cells.slice(1),
    ]);
    const last = load(text)
      .records.filter((record) => record.kind === 'notification')
      .at(-1)!;
    const result = decodeStreamPacket(last.kind === 'notification' ? last.bytes : new Uint8Array());
    // 4295.06 s = 4 295 060 000 us; minus 2^32 = 4 294 967 296.
    expect(result.ok && result.packet.firstTick).toBe(92_704);
  });

  it('reads semicolons, quotes, a byte order mark, CRLF and blank last lines', () => {
    const plain = load(table(30));
    const text = table(30, (cells) => cells.map((cell) => `"${cell}"`))
      .replaceAll(',', ';')
      .replaceAll('\n', '\r\n');
    expect(load(`\ufeff${text}\r\n`, { delimiter: ';' })).toEqual(plain);
  });

  it('encodes a sensor at complete rest', () => {
    const text = table(20, (cells) => [cells[0]!, ...Array<string>(18).fill('0')]);
    expect(samplesOf(load(text), 'implement').values).toEqual(Array(120).fill(0));
  });

  it('asks for zeroing at the times of the mapping', () => {
    const { records } = load(table(30), { zeroRequestedAt: [5.1] });
    expect(records).toContainEqual({
      kind: 'event',
      hostTimeUs: 100_000,
      event: { type: 'zero-requested' },
    });
  });
});

describe('recordingFromCsv names what is wrong:', () => {
  it('a missing column, with the nearest names', () => {
    const sensors = { ...baseMapping.sensors, upperArm: { gyro: 'u_gyr', accel: 'u_a' } };
    const { code, message } = codeOf(() => load(table(9), { sensors }));
    expect(code).toBe('missing-column');
    expect(message).toContain("'u_gyrx'");
    expect(message).toContain('u_gx');
  });

  it('the wrong delimiter', () => {
    expect(codeOf(() => load(table(9), { delimiter: ';' })).message).toContain('delimiter');
  });

  it('a cell that is no number, with line and column', () => {
    const text = table(9, (cells, row) =>
      row === 4 ? cells.with(3, '1,5').with(5, '0x1F') : cells,
    );
    // Line 6: the header is line 1. The comma of '1,5' adds a cell.
    expect(codeOf(() => load(text))).toMatchObject({ code: 'ragged-row' });
    const hex = table(9, (cells, row) => (row === 4 ? cells.with(5, '0x1F') : cells));
    const { code, message } = codeOf(() => load(hex));
    expect(code).toBe('not-a-number');
    expect(message).toMatch(/Line 6, column 'u_ay': '0x1F'/);
  });

  it('an infinite value', () => {
    const text = table(9, (cells, row) => (row === 0 ? cells.with(1, '1e999') : cells));
    expect(codeOf(() => load(text)).code).toBe('not-a-number');
  });

  it('a row without a time', () => {
    const text = table(9, (cells, row) => (row === 2 ? cells.with(0, 'nan') : cells));
    expect(codeOf(() => load(text)).message).toMatch(/Line 4, column 't'/);
  });

  it('a short row, with its line', () => {
    const text = table(9, (cells, row) => (row === 8 ? cells.slice(0, 7) : cells));
    const { code, message } = codeOf(() => load(text));
    expect(code).toBe('ragged-row');
    expect(message).toContain('Line 10 has 7 cells but the header has 19');
  });

  it('time running backwards or standing still, with its line', () => {
    for (const time of ['5.030', '5.010']) {
      const text = table(9, (cells, row) => (row === 4 ? cells.with(0, time) : cells));
      const { code, message } = codeOf(() => load(text));
      expect(code).toBe('time-not-forward');
      expect(message).toContain('Line 6');
    }
  });

  it('too few rows, in all or for one sensor', () => {
    expect(codeOf(() => load('')).code).toBe('too-few-rows');
    expect(codeOf(() => load(table(1))).code).toBe('too-few-rows');
    const text = table(9, (cells) => cells.with(14, ''));
    expect(codeOf(() => load(text)).message).toContain('implement sensor');
  });

  it('a time unit that makes no sense', () => {
    expect(codeOf(() => load(table(9), { timeUnit: 'ms' })).code).toBe('implausible-rate');
  });

  it('values that no sensor measures', () => {
    const text = table(9, (cells, row) => (row === 3 ? cells.with(1, '1e6') : cells));
    expect(codeOf(() => load(text)).code).toBe('implausible-values');
  });
});

describe('readCsvMapping', () => {
  it('fills in what may be left out', () => {
    expect(readCsvMapping(baseMapping, '0.1.0')).toMatchObject({
      delimiter: ',',
      timeUnitUs: 1e6,
      zeroRequestedAt: [],
      description: { setId: 'imported', source: 'imported', handedness: 'right', startedAtMs: 0 },
    });
  });

  it.each([
    ['gyroUnit', 'rpm', /gyroUnit must be one of rad\/s, deg\/s; found "rpm"/],
    ['accelUnit', undefined, /accelUnit must be one of .* found nothing/],
    ['timeUnit', 'min', /timeUnit/],
    ['time', 3, /time must be text/],
    ['sensors', { upperArm: baseMapping.sensors.upperArm }, /sensors.forearm/],
    [
      'sensors',
      { ...baseMapping.sensors, implement: { gyro: ['a', 'b'], accel: 'c' } },
      /sensors.implement.gyro/,
    ],
    ['lengthsM', undefined, /lengthsM/],
    ['sensorFromJointM', undefined, /sensorFromJointM/],
    ['startedAt', 'yesterday', /startedAt/],
    ['zeroRequestedAt', 5, /zeroRequestedAt/],
    ['setId', 'a/b', /setId/],
  ])('refuses a wrong %s (%j)', (field, wrong, message) => {
    const run = () => readCsvMapping({ ...baseMapping, [field]: wrong }, '0.1.0');
    expect(run).toThrow(ShapeError);
    expect(run).toThrow(message);
  });
});

const qmt = openDataFile('qmt-full-body/walk_sit_stand_upper_body.csv.gz');

describe.skipIf(qmt === null)('the open upper-body recording', () => {
  it('loads whole: 100 s at 100 Hz on three sensors', () => {
    const mapping: unknown = JSON.parse(
      readFileSync(new URL('./qmt-right-arm.mapping.json', import.meta.url), 'utf8'),
    );
    const text = gunzipSync(readFileSync(qmt!)).toString('utf8');
    const recording = recordingFromCsv(text, readCsvMapping(mapping, '0.1.0'));
    for (const segment of SEGMENTS) {
      const { times, values, scales } = samplesOf(recording, segment);
      // 10 000 rows of 10 ms (data README: 100 Hz, 100 s).
      expect(times.length).toBe(10_000);
      expect(times.at(-1)).toBe(99_990_000);
      if (segment === 'upperArm') {
        // First row of the file.
        [-0.0543, -0.0148, -0.0101].forEach((gyro, axis) => {
          expect(Math.abs(values[axis]! - gyro)).toBeLessThanOrEqual(scales[0]! / 2);
        });
        [9.7003, 1.624, -1.0824].forEach((accel, axis) => {
          expect(Math.abs(values[3 + axis]! - accel)).toBeLessThanOrEqual(scales[1]! / 2);
        });
      }
    }
  });
});
