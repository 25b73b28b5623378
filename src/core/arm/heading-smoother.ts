import { wrapAngle } from '../maths/angles.ts';
import type { HeadingStep } from './heading-agreement.ts';
import {
  correctHeading,
  type HeadingBelief,
  type HeadingCovariance,
  predictHeading,
  unknownHeading,
} from './heading-belief.ts';

/** Of the drift before anything is known of what follows, rad/s: 1 deg/s, far more than any part drifts. */
const UNKNOWN_DRIFT_SD_RAD_S = Math.PI / 180;

/** A moment of a heading's history. */
export interface HeadingMoment {
  /** What the forward filter knew then. */
  readonly known: HeadingBelief;
  /** How many steps of the history lay behind. */
  readonly steps: number;
}

/**
 * What is known of a turn at some moments when also that is used which came later: the filter run backward from the
 * end, once for all moments, joined with what the forward filter knew.
 *   P = (Pf^-1 + Pb^-1)^-1,  x = xf + P Pb^-1 (xb - xf)
 * @param history oldest first; what lies beyond a new beginning says nothing of what was before
 * @param moments in the order of their steps
 * @returns one belief a moment
 * Source: two-filter form of the fixed-interval smoother, Fraser & Potter 1969, doi 10.1109/TAC.1969.1099196.
 * Checked: tests/arm/heading-smoother.test.ts against weighted least squares over all steps.
 */
export function smoothHeadings(
  history: readonly HeadingStep[],
  moments: readonly HeadingMoment[],
): HeadingBelief[] {
  const smoothed: HeadingBelief[] = new Array(moments.length);
  let after = unknownHeading(UNKNOWN_DRIFT_SD_RAD_S);
  let isBlind = true;
  let next = moments.length - 1;
  for (let steps = history.length; next >= 0; steps--) {
    for (; next >= 0 && moments[next]!.steps >= steps; next--) {
      const { known } = moments[next]!;
      smoothed[next] = isBlind ? known : join(known, mirrored(after));
    }
    const step = history[steps - 1];
    if (step === undefined) break;
    if (step.kind === 'began-anew') {
      after = unknownHeading(UNKNOWN_DRIFT_SD_RAD_S);
      isBlind = true;
    } else if (step.kind === 'measured') {
      if (isBlind) after.deltaRad = step.deltaRad;
      correctHeading(after, step.deltaRad, step.variance, step.noiseVariance);
      isBlind = false;
    } else if (!isBlind) {
      predictHeading(after, step.stepS, step.walkVariance, step.noiseWalkVariance);
    }
  }
  return smoothed;
}

/** Backward, a drift has the other sign. */
function mirrored(belief: HeadingBelief): HeadingBelief {
  const { noise } = belief;
  return {
    ...belief,
    driftRadS: -belief.driftRadS,
    pCross: -belief.pCross,
    noise: { ...noise, pCross: -noise.pCross },
  };
}

/** Row-major (2, 2). */
type Matrix2 = readonly [number, number, number, number];

function join(f: HeadingBelief, b: HeadingBelief): HeadingBelief {
  // weight of the later part: Wb = Pf (Pf + Pb)^-1, so that neither needs an inverse of its own
  const weight = multiply(matrixOf(f), inverse(sum(matrixOf(f), matrixOf(b))));
  const rest: Matrix2 = [1 - weight[0], -weight[1], -weight[2], 1 - weight[3]];
  const turn = wrapAngle(b.deltaRad - f.deltaRad);
  const drift = b.driftRadS - f.driftRadS;
  return {
    deltaRad: wrapAngle(f.deltaRad + weight[0] * turn + weight[1] * drift),
    driftRadS: f.driftRadS + weight[2] * turn + weight[3] * drift,
    ...covarianceOf(multiply(rest, matrixOf(f))),
    noise: covarianceOf(
      sum(sandwich(rest, matrixOf(f.noise)), sandwich(weight, matrixOf(b.noise))),
    ),
  };
}

function matrixOf({ pDelta, pCross, pDrift }: HeadingCovariance): Matrix2 {
  return [pDelta, pCross, pCross, pDrift];
}

function covarianceOf([pDelta, a, b, pDrift]: Matrix2): HeadingCovariance {
  return { pDelta, pCross: (a + b) / 2, pDrift };
}

function multiply(a: Matrix2, b: Matrix2): Matrix2 {
  return [
    a[0] * b[0] + a[1] * b[2],
    a[0] * b[1] + a[1] * b[3],
    a[2] * b[0] + a[3] * b[2],
    a[2] * b[1] + a[3] * b[3],
  ];
}

function sum(a: Matrix2, b: Matrix2): Matrix2 {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2], a[3] + b[3]];
}

function inverse(m: Matrix2): Matrix2 {
  const determinant = m[0] * m[3] - m[1] * m[2];
  return [m[3] / determinant, -m[1] / determinant, -m[2] / determinant, m[0] / determinant];
}

/** W P W'. */
function sandwich(w: Matrix2, p: Matrix2): Matrix2 {
  return multiply(multiply(w, p), [w[0], w[2], w[1], w[3]]);
}
