import type { Estimate } from '../core/statistics/estimate.ts';

/** Numbers as the plain page says them. Checked: tests/reports/plain-report.test.ts */

/** Metres in centimetres, one decimal, without a minus before a nothing. */
export function inCm(metres: number): string {
  return (Math.round(metres * 1000) / 10 + 0).toFixed(1);
}

/** An interval as part of a sentence: "very likely 1.2 to 2.1"; the unit follows. */
export function likely({ low, high }: Estimate, print: (value: number) => string): string {
  return `very likely ${print(low)} to ${print(high)}`;
}
