import { wrapAngle } from '../maths/angles.ts';

/**
 * What is known of the turn about the vertical between two earth frames: the turn, its drift rate, and their
 * covariance. Plain data.
 */
export interface HeadingBelief {
  /** The turn of j's frame onto i's, rad, and its drift, rad/s. */
  deltaRad: number;
  driftRadS: number;
  /** Covariance: turn, cross, drift. */
  pDelta: number;
  pCross: number;
  pDrift: number;
  /** The part of that covariance that differs from swing to swing; the rest all windows share. */
  readonly noise: HeadingCovariance;
}

export interface HeadingCovariance {
  pDelta: number;
  pCross: number;
  pDrift: number;
}

/** Random walk of the drift rate. */
const DRIFT_WALK_RAD_S_SQRT_S = 0.01 * (Math.PI / 180);

/** Any turn at all, with a drift of that SD. */
export function unknownHeading(driftSdRadS: number): HeadingBelief {
  const covariance = () => ({ pDelta: Math.PI ** 2, pCross: 0, pDrift: driftSdRadS ** 2 });
  return { deltaRad: 0, driftRadS: 0, ...covariance(), noise: covariance() };
}

/**
 * Lets time pass.
 * @param walkVariance what the turn may have walked meanwhile, rad^2
 * @param noiseWalkVariance the part of it that is not much the same from swing to swing
 */
export function predictHeading(
  belief: HeadingBelief,
  stepS: number,
  walkVariance: number,
  noiseWalkVariance: number,
): void {
  belief.deltaRad = wrapAngle(belief.deltaRad + belief.driftRadS * stepS);
  spread(belief, stepS, walkVariance);
  spread(belief.noise, stepS, noiseWalkVariance);
}

/**
 * Weighs in one measurement of the turn.
 * @param variance its whole error, by which it is weighed, rad^2
 * @param noiseVariance the part that the next measurement does not share
 */
export function correctHeading(
  belief: HeadingBelief,
  deltaRad: number,
  variance: number,
  noiseVariance: number,
): void {
  const innovation = wrapAngle(deltaRad - belief.deltaRad);
  const total = belief.pDelta + variance;
  const kDelta = belief.pDelta / total;
  const kDrift = belief.pCross / total;
  belief.deltaRad = wrapAngle(belief.deltaRad + kDelta * innovation);
  belief.driftRadS += kDrift * innovation;
  belief.pDrift -= kDrift * belief.pCross;
  belief.pCross *= 1 - kDelta;
  belief.pDelta *= 1 - kDelta;
  correctNoise(belief.noise, kDelta, kDrift, noiseVariance);
}

/** Joseph's form, good for any gain: the weights are those of the whole error, the variance that of its part. */
function correctNoise(
  noise: HeadingCovariance,
  kDelta: number,
  kDrift: number,
  variance: number,
): void {
  const { pDelta, pCross } = noise;
  const rest = 1 - kDelta;
  noise.pDrift += kDrift * (kDrift * (pDelta + variance) - 2 * pCross);
  noise.pCross = rest * (pCross - kDrift * pDelta) + kDelta * kDrift * variance;
  noise.pDelta = rest * rest * pDelta + kDelta * kDelta * variance;
}

function spread(p: HeadingCovariance, t: number, walk: number): void {
  const q = DRIFT_WALK_RAD_S_SQRT_S ** 2;
  p.pDelta += 2 * t * p.pCross + t * t * p.pDrift + walk + (q * t ** 3) / 3;
  p.pCross += t * p.pDrift + (q * t * t) / 2;
  p.pDrift += q * t;
  // Nothing is less known than any turn at all; the correlation shrinks along, or the matrix would stop
  // being a covariance.
  if (p.pDelta > Math.PI ** 2) {
    p.pCross *= Math.PI / Math.sqrt(p.pDelta);
    p.pDelta = Math.PI ** 2;
  }
}
