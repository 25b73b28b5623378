/** Parts of one bin on top of each other: where each begins and ends; those below zero hang down from zero. */
export interface Stacked {
  readonly from: number;
  readonly to: number;
}

/**
 * Stacks signed parts: positive ones upwards from zero, negative ones downwards, each kind in its order.
 * @returns 'from' is the end nearer to zero
 * Checked: tests/screens/paths.test.ts
 */
export function stackParts(parts: readonly number[]): Stacked[] {
  let up = 0;
  let down = 0;
  return parts.map((part) => {
    const from = part < 0 ? down : up;
    const to = from + part;
    if (part < 0) down = to;
    else up = to;
    return { from, to };
  });
}
