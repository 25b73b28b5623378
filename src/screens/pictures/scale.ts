/** From data to pixels along one axis, a straight line through two pairs. */
export interface Scale {
  (value: number): number;
  /** Back from pixels to data. */
  invert(px: number): number;
}

/** Data `low` lies at `lowPx`, `high` at `highPx`; ends may lie either way round. Checked: tests/screens/scale.test.ts */
export function linearScale(
  [low, high]: readonly [number, number],
  [lowPx, highPx]: readonly [number, number],
): Scale {
  const perUnit = (highPx - lowPx) / (high - low);
  return Object.assign((value: number) => lowPx + (value - low) * perUnit, {
    invert: (px: number) => low + (px - lowPx) / perUnit,
  });
}

/**
 * Round places on an axis: multiples of 1, 2 or 5 times a power of ten inside [low, high].
 * @param atMost this many steps between them, so one place more
 * Checked: tests/screens/scale.test.ts
 */
export function ticksBetween(low: number, high: number, atMost: number): number[] {
  const step = roundStep((high - low) / atMost);
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  // Whole multiples over an inverse keep 0.3 from becoming 0.30000000000000004.
  const perUnit = Math.round(1 / step);
  return Array.from({ length: last - first + 1 }, (_, i) =>
    step < 1 ? (first + i) / perUnit : (first + i) * step,
  );
}

/** The range widened to round places. Equal ends get room on both sides. Checked: tests/screens/scale.test.ts */
export function roundRange(low: number, high: number, atMost: number): readonly [number, number] {
  if (low === high) return roundRange(low - 1, high + 1, atMost);
  const step = roundStep((high - low) / atMost);
  return [Math.floor(low / step + 1e-9) * step, Math.ceil(high / step - 1e-9) * step];
}

/** Smallest and largest finite value; what to show when there is none. */
export function extentOf(
  values: Iterable<number>,
  none: readonly [number, number],
): readonly [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (const value of values) {
    if (!Number.isFinite(value)) continue;
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return low <= high ? [low, high] : none;
}

/** Least of 1, 2, 5 times a power of ten that is no smaller. */
function roundStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  const share = least / power;
  const round = share <= 1 + 1e-9 ? 1 : share <= 2 + 1e-9 ? 2 : share <= 5 + 1e-9 ? 5 : 10;
  return round * power;
}
