import { dataFault, type Unavailable } from './estimate.ts';

/** Summary of directions in a plane. */
export interface CircularSummary {
  readonly n: number;
  /** Direction of the sum of unit vectors, radians in [0, 2 pi); 'no-direction' when they cancel. */
  readonly meanRad: number | Unavailable;
  /** Mean resultant length: 1 all alike, 0 no common direction. */
  readonly resultantLength: number;
  /** sqrt(2 (1 - R)), radians, at most sqrt 2: it stays finite however widely directions scatter. */
  readonly angularDeviationRad: number;
}

/** Resultants below this share of n are rounding of vectors that cancel. */
const CANCELLED = 1e-12;

/**
 * Mean direction and scatter of angles.
 * @param anglesRad at least one; whole turns do not matter
 * Source: Batschelet 1981; Zar, Biostatistical Analysis, ch. 26 (from memory).
 * Checked: tests/statistics/circular.test.ts
 */
export function circularSummary(anglesRad: ArrayLike<number>): CircularSummary | Unavailable {
  const fault = dataFault(1, anglesRad);
  if (fault) return fault;
  const n = anglesRad.length;
  let x = 0;
  let y = 0;
  for (let i = 0; i < n; i++) {
    x += Math.cos(anglesRad[i]!);
    y += Math.sin(anglesRad[i]!);
  }
  const resultantLength = Math.min(1, Math.hypot(x, y) / n);
  return {
    n,
    meanRad:
      resultantLength < CANCELLED ? { reason: 'no-direction' } : positiveTurn(Math.atan2(y, x)),
    resultantLength,
    angularDeviationRad: Math.sqrt(2 * (1 - resultantLength)),
  };
}

/**
 * Coupling angle of vector coding: direction of a step in the plane of a proximal and a distal angle.
 * 0 proximal alone, 45 deg both alike, 90 deg distal alone, 135 deg against each other.
 * @returns radians in [0, 2 pi); 'no-direction' when neither moves
 * Source: Sparrow et al. 1987; Chang, Van Emmerik & Hamill 2008 (both from memory).
 * Checked: tests/statistics/circular.test.ts
 */
export function couplingAngle(proximalStep: number, distalStep: number): number | Unavailable {
  if (proximalStep === 0 && distalStep === 0) return { reason: 'no-direction' };
  return positiveTurn(Math.atan2(distalStep, proximalStep));
}

/** Same direction in [0, 2 pi). @param angleRad in [-pi, pi] */
function positiveTurn(angleRad: number): number {
  const turn = angleRad < 0 ? angleRad + 2 * Math.PI : angleRad;
  // A tiny negative angle rounds up to the whole turn.
  return turn < 2 * Math.PI ? turn : 0;
}
