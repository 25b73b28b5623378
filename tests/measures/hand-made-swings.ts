import type { MeasuredSwing } from '../../src/core/measures/measured-swing.ts';
import { level, swingFromDirections } from './swing-from-directions.ts';

/** A swing with any reach over the share of the swing; its directions say nothing about it. */
export function swingOfReach(reachAt: (share: number) => number, noiseM = 0.002): MeasuredSwing {
  const along = level(0);
  const swing = swingFromDirections(() => [along, along, along]);
  return {
    ...swing,
    reachCurveM: Float64Array.from({ length: 101 }, (_, p) => reachAt(p / 100)),
    reachCurveNoiseM: new Float64Array(101).fill(noiseM),
    reachBeforeContactM: Float64Array.from({ length: 61 }, (_, row) => reachAt(row / 60)),
  };
}

/**
 * Columns of twelve numbers with mean 0 and SD 1, any two uncorrelated: rows 2 to 4 of a Hadamard matrix of
 * order 12 (Paley's construction, quadratic residues modulo 11), scaled by sqrt(11/12).
 */
export const UNCORRELATED: readonly Float64Array[] = [1, 2, 3].map((row) => {
  const residues = new Set([1, 3, 4, 5, 9]);
  return Float64Array.from({ length: 12 }, (_, column) => {
    const isPlus = column === 0 || residues.has((((column - 1 - (row - 1)) % 11) + 11) % 11);
    return (isPlus ? 1 : -1) * Math.sqrt(11 / 12);
  });
});

/** Twelve swings: mean reach plus columns of numbers times their courses, metres. */
export function swingsOfModes(
  courses: readonly ((share: number) => number)[],
  noiseM = 0.002,
): MeasuredSwing[] {
  return Array.from({ length: 12 }, (_, i) =>
    swingOfReach(
      (share) => courses.reduce((r, course, k) => r + UNCORRELATED[k]![i]! * course(share), 0.9),
      noiseM,
    ),
  );
}
