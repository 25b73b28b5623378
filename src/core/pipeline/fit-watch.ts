import { GRID_STEP_US } from '../arm/arm-timeline.ts';
import {
  addIdentityEvidence,
  createIdentityCheck,
  fitOdds,
  fitProblem,
  type JointDistances,
  likeliestFit,
  misfitOf,
} from '../arm/identity-check.ts';
import { slipProblem, watchSlip } from '../arm/slip-watch.ts';
import { addTiltEvidence, createTiltEvidence } from '../arm/tilt-evidence.ts';
import { RAD_PER_DEG } from '../maths/angles.ts';
import { norm } from '../maths/vector.ts';
import type { ArmReadings } from './arm-sensors.ts';
import type { ArmDimensions, ArmState, FitWatch } from './arm-state.ts';
import { loseFit } from './zeroing.ts';

/** A swing that speaks against a fault by these log odds was still free of it. */
const AGAINST = 5;
/** What turns slower than this rests, and the arm rests when all of it does for so long. */
const REST_RAD_S = 0.6;
const REST_S = 0.2;
/** A heading less sure than this is not known at all: after a long gap, until the first swing. */
const KNOWN_HEADING_RAD = 10 * RAD_PER_DEG;

/**
 * What the sensors say of how they sit, of levers and of gyroscopes is asked so rarely, instants: those in between say
 * much the same.
 */
export const EVIDENCE_EVERY = 4;
const REST_LOOKS = REST_S / (EVIDENCE_EVERY * GRID_STEP_US * 1e-6);

/**
 * Looks at how the sensors sit, at one instant without shock of every EVIDENCE_EVERY; long axes and levers are
 * known.
 */
export function addFitEvidence(arm: ArmState, readings: ArmReadings): void {
  const { mounting, taped, fit } = arm;
  if (mounting === null || taped === null) return;
  addIdentityEvidence(fit.identity, readings, mounting.longAxis, jointDistances(arm.dimensions));
  if (fit.hasFallen) forgetFall(fit, readings);
  if (mounting.qSegmentFromSensor === null || arm.timeline.nextUs < fit.trustedUs) return;
  // The implement alone turns: it is twirled between the fingers.
  if (norm(readings[0].gyr) < REST_RAD_S && norm(readings[1].gyr) < REST_RAD_S) return;
  const headings = [arm.elbow, arm.wrist] as const;
  for (const joint of [0, 1] as const) {
    const { deltaRad, pDelta } = headings[joint];
    if (pDelta > KNOWN_HEADING_RAD ** 2) continue;
    addTiltEvidence(
      fit.tilt,
      joint,
      readings,
      joint === 0 ? taped.elbow : taped.wrist,
      mounting,
      deltaRad,
    );
  }
}

/** The implement fell from the hand: what it does until the arm rests with it again says nothing of the fit. */
export function noteFall({ fit }: ArmState): void {
  fit.hasFallen = true;
  fit.restedLooks = 0;
}

function forgetFall(fit: FitWatch, readings: ArmReadings): void {
  const rests = readings.every(({ gyr }) => norm(gyr) < REST_RAD_S);
  fit.restedLooks = rests ? fit.restedLooks + 1 : 0;
  if (fit.restedLooks !== REST_LOOKS) return;
  fit.identity = createIdentityCheck();
  fit.tilt = createTiltEvidence();
}

/** What is to be thought of the latest swings. */
export interface FitVerdict {
  readonly misfit: NonNullable<ArmState['misfit']>;
  /** So many, the newest included, are in doubt. */
  readonly swings: number;
}

/**
 * Judges at a contact whether each sensor sits where its name says, and still as it did in the poses. If not,
 * the zero is lost, with the reason in words; a sensor that moved and may be back costs two swings.
 * @returns null when nothing speaks against the fit
 */
export function judgeFit(arm: ArmState): FitVerdict | null {
  const { fit } = arm;
  if (arm.zero.phase !== 'zeroed') return null;
  const odds = fitOdds(fit.identity);
  const seen = likeliestFit(fit.identity);
  const slip = watchSlip(fit.slip, fit.tilt);
  fit.identity = createIdentityCheck();
  fit.tilt = createTiltEvidence();
  fit.hasFallen = false;
  odds.forEach((odd, i) => {
    fit.unproven[i] = odd < -AGAINST ? 0 : fit.unproven[i]! + 1;
  });
  const problem = seen === null ? null : fitProblem(seen);
  if (seen !== null && problem !== null) {
    const swings = fit.unproven[seen]!;
    loseFit(arm, misfitOf(seen), problem);
    return { misfit: misfitOf(seen), swings };
  }
  if (slip.sensors.length > 0) loseFit(arm, 'slipped', slipProblem(slip.sensors));
  return slip.swings === 0 ? null : { misfit: 'slipped', swings: slip.swings };
}

function jointDistances({ lengthsM, sensorFromJointM }: ArmDimensions): JointDistances {
  return [
    lengthsM.upperArm - sensorFromJointM.upperArm,
    -sensorFromJointM.forearm,
    lengthsM.forearm - sensorFromJointM.forearm,
    -sensorFromJointM.implement,
  ];
}
