import { centimetres } from '../controls/centimetres.ts';
import type { ImplementRow } from './implement-entry.ts';
import { COMMON_AXIS_M, LENGTH_SE_M, MASS_SE_KG } from './pendulum-readings.ts';

/** What it takes to get an implement turning, all about one axis, so that implements can be compared. */
export interface SwingEffort {
  readonly inertiaKgM2: number;
  /** At most this. */
  readonly standardError: number;
}

/** Two-sided 95 % of the normal distribution. */
const Z95 = 1.96;

/**
 * Moment of inertia about the common axis, from the axis it was measured about:
 *   I' = I + m ((b - a')^2 - (b - a)^2),  b balance point, a and a' axes, all from the butt end
 * The standard error is a bound: how the readings of mass and balance point entered I is not known any more, so their
 * parts are added as if they all erred the same way.
 * @returns kg m^2; null until the moment of inertia was measured
 * Source: parallel-axis theorem (any textbook of mechanics). Checked: tests/screens/swing-effort.test.ts
 */
export function swingEffort({ massKg, balancePointM, inertia }: ImplementRow): SwingEffort | null {
  if (massKg === undefined || balancePointM === undefined || inertia === undefined) return null;
  const moved = inertia.axisM - COMMON_AXIS_M;
  const perMass = moved * (2 * balancePointM - inertia.axisM - COMMON_AXIS_M);
  return {
    inertiaKgM2: inertia.inertiaKgM2 + massKg * perMass,
    standardError:
      inertia.standardError +
      Math.abs(perMass) * MASS_SE_KG +
      Math.abs(2 * massKg * moved) * LENGTH_SE_M,
  };
}

/** Implements that have something to be compared by; empty unless there are two. */
export function comparedImplements(rows: readonly ImplementRow[]): readonly ImplementRow[] {
  const measured = rows.filter(
    ({ massKg, balancePointM }) => massKg !== undefined || balancePointM !== undefined,
  );
  return measured.length < 2 ? [] : measured;
}

/** The largest effort beside the smallest, in words; a difference within what the measuring leaves open is none. */
export function effortWords(rows: readonly ImplementRow[]): string {
  const efforts = rows
    .flatMap((row) => {
      const effort = swingEffort(row);
      return effort === null ? [] : [{ name: row.implement, ...effort }];
    })
    .sort((a, b) => a.inertiaKgM2 - b.inertiaKgM2);
  const [least, most] = [efforts[0], efforts.at(-1)];
  if (least === undefined || most === undefined || least === most) {
    return 'How hard they are to get swinging can be compared once the moment of inertia of two is measured.';
  }
  const difference = most.inertiaKgM2 - least.inertiaKgM2;
  if (difference <= Z95 * Math.hypot(most.standardError, least.standardError)) {
    return 'No difference in how hard they are to get swinging is shown: it is within what the measuring leaves open.';
  }
  const times = most.inertiaKgM2 / least.inertiaKgM2;
  return `${most.name} is ${times.toFixed(times < 10 ? 1 : 0)} times as hard to get swinging as ${least.name}, about an axis ${centimetres(COMMON_AXIS_M)} cm from the butt end.`;
}
