import { centimetres, metresOf } from '../controls/centimetres.ts';
import type { Library } from '../library-model.ts';

/** An implement as the library has it. */
export type ImplementRow = Library['implements'][number];
/** Its moment of inertia, once it was measured. */
export type MeasuredInertia = NonNullable<ImplementRow['inertia']>;

/** An implement as typed; centimetres and grams, NaN until they are typed. */
export interface ImplementEntry {
  readonly implement: string;
  readonly wristToSweetSpotCm: number;
  readonly wristToSensorCm: number;
  readonly totalLengthCm: number;
  readonly massG: number;
  /** From the butt end. */
  readonly balancePointCm: number;
  readonly inertia: MeasuredInertia | null;
}

/** Nothing is known but the usual place of the sensor. */
export const NEW_IMPLEMENT: ImplementEntry = {
  implement: '',
  wristToSweetSpotCm: Number.NaN,
  wristToSensorCm: 13,
  totalLengthCm: Number.NaN,
  massG: Number.NaN,
  balancePointCm: Number.NaN,
  inertia: null,
};

/** A known implement as the form shows it. */
export function entryOfImplement(row: ImplementRow): ImplementEntry {
  const { totalLengthM, massKg, balancePointM, inertia } = row;
  const optional = (metres: number | undefined): number =>
    metres === undefined ? Number.NaN : centimetres(metres);
  return {
    implement: row.implement,
    wristToSweetSpotCm: centimetres(row.lengthM),
    wristToSensorCm: centimetres(row.sensorM),
    totalLengthCm: optional(totalLengthM),
    massG: massKg === undefined ? Number.NaN : gramsOf(massKg),
    balancePointCm: optional(balancePointM),
    inertia: inertia ?? null,
  };
}

/**
 * The implement to keep, SI; what was not typed is left out.
 * @param seenMs when the coach said so, milliseconds since 1970 (UTC)
 */
export function implementOfEntry(entry: ImplementEntry, seenMs: number): ImplementRow {
  const { totalLengthCm, massG, balancePointCm, inertia } = entry;
  return {
    implement: entry.implement.trim(),
    lengthM: metresOf(entry.wristToSweetSpotCm),
    sensorM: metresOf(entry.wristToSensorCm),
    ...(Number.isNaN(totalLengthCm) ? {} : { totalLengthM: metresOf(totalLengthCm) }),
    ...(Number.isNaN(massG) ? {} : { massKg: kilogramsOf(massG) }),
    ...(Number.isNaN(balancePointCm) ? {} : { balancePointM: metresOf(balancePointCm) }),
    ...(inertia === null ? {} : { inertia }),
    seenMs,
  };
}

/** After a change: a moment of inertia never stays with a mass or length it was not measured with. */
export function changedEntry(entry: ImplementEntry, part: Partial<ImplementEntry>): ImplementEntry {
  const measured = ['totalLengthCm', 'massG', 'balancePointCm'] as const;
  const differs = measured.some((key) => part[key] !== undefined && part[key] !== entry[key]);
  return { ...entry, ...(differs ? { inertia: null } : {}), ...part };
}

/** What no single field can tell, in words; null when the entry can be kept. */
export function implementProblem(entry: ImplementEntry): string | null {
  if (entry.balancePointCm >= entry.totalLengthCm) {
    return 'The balance point lies beyond the whole length. Measure both from the butt end.';
  }
  return null;
}

/** Grams to a tenth, as a scale reads. */
function gramsOf(kilograms: number): number {
  return Math.round(1e4 * kilograms) / 10;
}

/** Kilograms of grams typed to a tenth, without a tail of digits. */
export function kilogramsOf(grams: number): number {
  return Math.round(10 * grams) / 1e4;
}
