import type { BallRow } from './ball-entry.ts';
import type { CalibrationRow } from './calibrations-model.ts';
import type { ImplementRow, MeasuredInertia } from './implement-entry.ts';

/** Two-sided 95 % of the normal distribution. */
const Z95 = 1.96;

/** What was measured of an implement, one line each; lengths in cm, mass in g. */
export function implementWords(row: ImplementRow): readonly string[] {
  const { totalLengthM, massKg, balancePointM, lengthM, inertia } = row;
  const alone = [
    ...(totalLengthM === undefined ? [] : [`${cm(totalLengthM)} long`]),
    ...(massKg === undefined ? [] : [`${(1000 * massKg).toFixed(0)} g`]),
    ...(balancePointM === undefined ? [] : [`balances at ${cm(balancePointM)}`]),
  ];
  return [
    ...(alone.length === 0 ? [] : [alone.join(', ')]),
    `sweet spot ${cm(lengthM)} from the wrist`,
    ...(inertia === undefined ? [] : [inertiaWords(inertia)]),
  ];
}

/** For instance '0.0281 ± 0.0006 kg m² about 10 cm from the butt end'. */
export function inertiaWords({ inertiaKgM2, standardError, axisM }: MeasuredInertia): string {
  return `${withError(inertiaKgM2, Z95 * standardError)} kg m² about ${cm(axisM)} from the butt end`;
}

/** A value and its 95 % half width, to two digits of the half width. */
export function withError(value: number, halfWidth: number): string {
  const digits = Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(halfWidth))));
  return `${value.toFixed(digits)} ± ${halfWidth.toFixed(digits)}`;
}

/** What was noted of a ball. */
export function ballWords({ diameterM, compression }: BallRow): readonly string[] {
  return [
    ...(diameterM === undefined ? [] : [`${cm(diameterM)} across`]),
    ...(compression === undefined ? [] : [compression]),
  ];
}

/** A sensor by the end of its serial, as its case or the browser's chooser shows it. */
export function sensorName({ serial }: Pick<CalibrationRow, 'serial'>): string {
  return `Sensor …${serial.slice(-6)}`;
}

/** A moment as people here write its day. */
export function dayOfMs(ms: number): string {
  return new Date(ms).toLocaleDateString(undefined, { dateStyle: 'medium' });
}

function cm(metres: number): string {
  return `${Number((100 * metres).toFixed(1))} cm`;
}
