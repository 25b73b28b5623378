import { type PerSegment, SEGMENT_WORDS, SEGMENTS, type Segment } from '../arm/segments.ts';
import type { AxisColumns } from './csv-mapping.ts';
import type { AccelUnit, GyroUnit, TimeUnit } from './table-mapping.ts';
import { type ColumnVector, meaningOf, type NameMeaning } from './table-names.ts';
import { guessTime, middleOf } from './table-time.ts';

/** Which columns of a table mean what; null: not chosen. */
export interface ColumnChoice {
  readonly time: string | null;
  readonly timeUnit: TimeUnit | null;
  readonly gyroUnit: GyroUnit | null;
  readonly accelUnit: AccelUnit | null;
  readonly sensors: PerSegment<{
    readonly gyro: AxisColumns | null;
    readonly accel: AxisColumns | null;
  }>;
}

/** A proposal, and in words what about it is not sure. */
export interface ColumnProposal {
  readonly choice: ColumnChoice;
  readonly doubts: readonly string[];
}

/** The first rows of a table, by column; NaN where a cell is no number. */
export type ColumnNumbers = ReadonlyMap<string, Float64Array>;

type Kind = 'gyro' | 'accel';
const KIND_WORDS: Readonly<Record<Kind, string>> = {
  gyro: 'gyroscope',
  accel: 'accelerometer',
};
/** No gyroscope in use on an arm measures more rad/s (4000 deg/s): more than that is degrees. */
const MOST_RAD_S = 70;
/** How far from 1 g a sensor that is hardly moved may be, as a share. */
const ABOUT = 0.3;
const G_MS2 = 9.80665;

/** A vector of columns with what its name and numbers say. */
interface Candidate {
  readonly vector: ColumnVector;
  readonly meaning: NameMeaning;
  readonly kind: Kind;
  /** Middle length of the vector over the first rows; NaN without numbers. */
  readonly size: number;
  readonly largest: number;
}

/**
 * Proposes which columns are the time and the three sensors of one arm, from names first and numbers second.
 * @param vectors see findVectors @param numbers of the first rows
 * @param hand the striking arm, for tables of both
 * Checked: tests/recording/table-preview.test.ts
 */
export function proposeColumns(
  vectors: readonly ColumnVector[],
  numbers: ColumnNumbers,
  hand: 'left' | 'right',
): ColumnProposal {
  const doubts: string[] = [];
  const candidates = vectors.flatMap((vector) => candidateOf(vector, numbers));
  const gyros = assign(candidates, 'gyro', hand, doubts);
  const accels = assign(candidates, 'accel', hand, doubts);
  const columns = (found: readonly (Candidate | null)[], k: number): AxisColumns | null =>
    found[k]?.vector.columns ?? null;
  const [upperArm, forearm, implement] = SEGMENTS.map((_, k) => ({
    gyro: columns(gyros, k),
    accel: columns(accels, k),
  })) as [Pair, Pair, Pair];
  return {
    choice: {
      ...guessTime(vectors, numbers, doubts),
      gyroUnit: unitOf(gyros, 'gyro', gyroUnitOf, doubts) as GyroUnit | null,
      accelUnit: unitOf(accels, 'accel', accelUnitOf, doubts) as AccelUnit | null,
      sensors: { upperArm, forearm, implement },
    },
    doubts,
  };
}

type Pair = ColumnChoice['sensors']['upperArm'];

function candidateOf(vector: ColumnVector, numbers: ColumnNumbers): Candidate[] {
  const meaning = meaningOf(vector);
  if (meaning.kind === 'other' || meaning.place === 'elsewhere') return [];
  const [x, y, z] = vector.columns.map((name) => numbers.get(name)!) as [
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const sizes = x.map((value, row) => Math.hypot(value, y[row]!, z[row]!)).filter(Number.isFinite);
  const size = middleOf(sizes);
  const kind = meaning.kind ?? (accelUnitOf(size) === null ? 'gyro' : 'accel');
  const largest = sizes.reduce((most, value) => Math.max(most, value), 0);
  return [{ vector, meaning, kind, size, largest }];
}

/** One candidate per segment, or null. What is taken without its name saying so is a doubt. */
function assign(
  candidates: readonly Candidate[],
  kind: Kind,
  hand: 'left' | 'right',
  doubts: string[],
): readonly (Candidate | null)[] {
  const all = candidates.filter((candidate) => candidate.kind === kind);
  const named = SEGMENTS.map((segment) => bestOf(all, segment, hand, doubts));
  const open = SEGMENTS.filter((_, k) => named[k] === null);
  const unnamed = all.filter(({ meaning }) => meaning.place === null);
  const words = open.map((segment) => SEGMENT_WORDS[segment]).join(', ');
  if (open.length > 0 && unnamed.length === open.length) {
    const labels = unnamed.map(({ vector }) => vector.label).join(', ');
    doubts.push(
      `Names do not say which ${KIND_WORDS[kind]} is where: ${labels} taken for ${words}, in this order.`,
    );
    return named.map((found, k) => found ?? unnamed[open.indexOf(SEGMENTS[k]!)]!);
  }
  if (open.length > 0) doubts.push(`No ${KIND_WORDS[kind]} found for: ${words}. Choose it below.`);
  return named;
}

function bestOf(
  candidates: readonly Candidate[],
  segment: Segment,
  hand: 'left' | 'right',
  doubts: string[],
): Candidate | null {
  const here = candidates.filter(({ meaning }) => meaning.place === segment);
  const fit = ({ meaning: { side } }: Candidate): number =>
    side === hand ? 2 : side === null ? 1 : 0;
  const best = here.reduce<Candidate | null>(
    (found, candidate) => (found === null || fit(candidate) > fit(found) ? candidate : found),
    null,
  );
  const rivals = here.filter((candidate) => best !== null && fit(candidate) === fit(best));
  if (best !== null && rivals.length > 1) {
    doubts.push(
      `Several fit the ${SEGMENT_WORDS[segment]}: ${rivals.map(({ vector }) => vector.label).join(', ')}. The first was taken.`,
    );
  }
  return best;
}

/** By the names, if they agree; else by the numbers. */
function unitOf(
  found: readonly (Candidate | null)[],
  kind: Kind,
  fromNumbers: (size: number, largest: number) => string | null,
  doubts: string[],
): string | null {
  const present = found.filter((candidate) => candidate !== null);
  const units = [...new Set(present.map(({ meaning }) => meaning.unit))];
  if (units.length > 1 || units[0] === 'unknown') {
    doubts.push(
      `The names give the ${KIND_WORDS[kind]}s units that differ or cannot be read. One unit for all three is needed.`,
    );
    return null;
  }
  const said = units[0] ?? null;
  if (said !== null) return said;
  const guesses = new Set(present.map(({ size, largest }) => fromNumbers(size, largest)));
  // One sensor that turns fast enough tells for all.
  guesses.delete(null);
  const guess = guesses.size === 1 ? [...guesses][0]! : null;
  if (guess === null) {
    doubts.push(
      `The unit of the ${KIND_WORDS[kind]}s is not sure: neither names nor first rows tell.`,
    );
  }
  return guess;
}

function gyroUnitOf(_size: number, largest: number): GyroUnit | null {
  return largest > MOST_RAD_S ? 'deg/s' : null;
}

function accelUnitOf(size: number): AccelUnit | null {
  if (Math.abs(size / G_MS2 - 1) < ABOUT) return 'm/s^2';
  return Math.abs(size - 1) < ABOUT ? 'g' : null;
}
