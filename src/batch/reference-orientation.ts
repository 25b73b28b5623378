import { SEGMENTS } from '../core/arm/segments.ts';
import {
  conjugate,
  fromAxes,
  multiply,
  normaliseQuaternion,
  type Quaternion,
  quaternion,
  slerp,
} from '../core/maths/quaternion.ts';
import { addScaled, cross, dot, normalise, vector3 } from '../core/maths/vector.ts';
import { readNumberColumns } from '../core/recording/csv-numbers.ts';
import { asList, asNumber, asObject, asText } from '../core/recording/json-shape.ts';

/** Orientation of the three sensors by someone else, over the same rows as the samples. */
export interface ReferenceOrientation {
  /** Microseconds since the first row, shape (rows). */
  readonly timeUs: Float64Array;
  /** qEarthFromSensor at a time (slerp), shape (4), or null outside the rows. @param segment 0..2 */
  at(segment: number, timeUs: number): Quaternion | null;
}

/**
 * Reads quaternion columns of a table (scalar first: prefix + w, x, y, z; time in seconds).
 * @param text the table @param value parsed JSON: `time`, and per segment `quaternion` (column prefix) and
 *   `sensorFromSegment` (nine numbers, rows of a rotation matrix, rounded is fine)
 * @throws ShapeError or CsvError naming what is missing
 */
export function readReference(text: string, value: unknown): ReferenceOrientation {
  const from = asObject(value, 'the reference');
  const segments = asObject(from.segments, 'segments');
  const time = asText(from.time, 'time', 200);
  const timeS = readNumberColumns(text, ',', [time])[0]!;
  const timeUs = timeS.map((t) => Math.round((t - timeS[0]!) * 1e6));
  const columns = SEGMENTS.map((segment) => {
    const where = `segments.${segment}`;
    const entry = asObject(segments[segment], where);
    const prefix = asText(entry.quaternion, `${where}.quaternion`, 200);
    const rows = asList(entry.sensorFromSegment, `${where}.sensorFromSegment`, 9);
    const matrix = rows.map((n, i) => asNumber(n, `${where}.sensorFromSegment[${i}]`, -1.01, 1.01));
    const names = ['w', 'x', 'y', 'z'].map((axis) => prefix + axis);
    return {
      q: readNumberColumns(text, ',', names),
      qSegmentFromSensor: conjugate(quaternion(), rotationFromRows(matrix)),
    };
  });
  const read = (segment: number, row: number): Quaternion => {
    const { q, qSegmentFromSensor } = columns[segment]!;
    const [w, x, y, z] = q.map((column) => column[row]!);
    const qEarthFromSegment = normaliseQuaternion(quaternion(w!, x!, y!, z!));
    return multiply(qEarthFromSegment, qEarthFromSegment, qSegmentFromSensor);
  };
  return {
    timeUs,
    at: (segment, wantedUs) => {
      const after = timeUs.findIndex((t) => t >= wantedUs);
      if (after < 1) return null;
      const u = (wantedUs - timeUs[after - 1]!) / (timeUs[after]! - timeUs[after - 1]!);
      return slerp(quaternion(), read(segment, after - 1), read(segment, after), u);
    },
  };
}

/** The nearest rotation to a rounded matrix: its first two columns made orthonormal. */
function rotationFromRows(m: readonly number[]): Quaternion {
  const column = (i: number) => vector3(m[i]!, m[3 + i]!, m[6 + i]!);
  const x = normalise(vector3(), column(0));
  const rough = column(1);
  const y = normalise(vector3(), addScaled(vector3(), rough, -dot(rough, x), x));
  return fromAxes(quaternion(), x, y, cross(vector3(), x, y));
}
