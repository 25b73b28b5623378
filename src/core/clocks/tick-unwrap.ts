const WRAP = 2 ** 32;

/**
 * Continues a 32-bit tick count beyond its wrap.
 * @param previousTick last unwrapped tick @param tick32 newly received count, 0..2^32-1
 * @returns the unwrapped tick nearest to the previous one (repeated and late packets go backwards)
 */
export function unwrapTick(previousTick: number, tick32: number): number {
  const base = Math.floor(previousTick / WRAP) * WRAP + tick32;
  if (base - previousTick > WRAP / 2) return base - WRAP;
  if (previousTick - base > WRAP / 2) return base + WRAP;
  return base;
}
