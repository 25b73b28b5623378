import { SCORE_STEPS } from './kit.ts';
import type { BallLanding } from './session-types.ts';

/** Sideways miss at the target per metre of reach error, and depth miss per second of timing error. Invented. */
const SIDEWAYS_M_PER_M = 25;
const DEPTH_M_PER_S = 55;
/** Every further step away from the middle of the box costs one score step, metres. */
const STEP_M = 0.35;

/**
 * Where the ball lands and what it is worth: a miss of the right reach turns into a sideways miss, meeting
 * the ball early or late into one of depth.
 * @param reachErrorM reach minus the player's best reach @param timingErrorS + is late
 */
export function landBall(
  contactTimeUs: number,
  reachErrorM: number,
  timingErrorS: number,
): BallLanding {
  const sidewaysM = SIDEWAYS_M_PER_M * reachErrorM;
  const depthM = DEPTH_M_PER_S * timingErrorS;
  const missM = Math.hypot(sidewaysM, depthM);
  const step = Math.min(SCORE_STEPS.length - 1, Math.floor(missM / STEP_M));
  const sideways = Math.abs(sidewaysM) >= Math.abs(depthM);
  const where = sideways ? 'wide' : depthM > 0 ? 'short' : 'long';
  return {
    contactTimeUs,
    points: SCORE_STEPS[step]!,
    words: step === 0 ? 'in the box' : `${missM.toFixed(1)} m ${where}`,
  };
}
