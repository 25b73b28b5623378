import { GRID_GAP, GRID_IN_SHOCK, GRID_STEP_US } from '../arm/arm-timeline.ts';
import { leversByTape } from '../arm/chain-levers.ts';
import {
  beginAnew,
  correctAgreement,
  setAgreement,
  updateAgreement,
} from '../arm/heading-agreement.ts';
import { resetHold, stepHold } from '../arm/hold-detector.ts';
import { fitProblem, likeliestFit, misfitOf } from '../arm/identity-check.ts';
import { createLeverRefinement } from '../arm/lever-refinement.ts';
import {
  largestTurn,
  type Mounting,
  mountingFromPlumb,
  mountingFromPoint,
  SAME_POSE_RAD,
} from '../arm/mounting.ts';
import { SEGMENT_WORDS, type Segment } from '../arm/segments.ts';
import { RAD_PER_DEG, wrapAngle } from '../maths/angles.ts';
import { rotate } from '../maths/quaternion.ts';
import { type Vector3, vector3 } from '../maths/vector.ts';
import type { ArmReadings } from './arm-sensors.ts';
import { type ArmDimensions, type ArmState, createFitWatch } from './arm-state.ts';
import { watchPose } from './pose-look.ts';

/** How well a player points with one segment, SD, rad. */
const POINTING_SD_RAD = 3 * RAD_PER_DEG;
/** Pointing again: every segment within this of level. */
const LEVEL_RAD = 12 * RAD_PER_DEG;
/** And within this of where it is believed to point. */
const POINTING_AGAIN_RAD = 30 * RAD_PER_DEG;
/** Holds remembered while waiting for the pointing one. */
const MOST_HOLDS = 4;

const pointed = vector3();

/** The coach asks for the two poses, for the first time or again. */
export function requestZero(arm: ArmState): void {
  forgetPoses(arm);
  arm.misfit = null;
  arm.zero = { phase: 'plumb', problem: null };
}

function forgetPoses(arm: ArmState): void {
  placeSensors(arm, null);
  arm.holds.length = 0;
  arm.fit = createFitWatch();
  resetHold(arm.hold);
}

/**
 * A sensor began anew, switched off and on or exchanged: where it points and how it sits are lost.
 * @returns true when that asks for new poses
 */
export function loseZero(arm: ArmState, segment: Segment): boolean {
  if (arm.zero.phase === 'not-started') return false;
  forgetPoses(arm);
  const problem = `The ${SEGMENT_WORDS[segment]} sensor began anew: both poses are needed again.`;
  arm.zero = { phase: 'not-started', problem };
  return true;
}

/** Another implement is swung, and its sensor was clipped on anew. */
export function changeImplement(arm: ArmState, dimensions: ArmDimensions): void {
  arm.dimensions = dimensions;
  if (arm.zero.phase === 'not-started') return;
  forgetPoses(arm);
  const problem = 'Another implement: both poses are needed again, with it.';
  arm.zero = { phase: 'not-started', problem };
}

/**
 * A sensor does not sit where its name says, or no longer as it did in the poses.
 * @param problem what is wrong and what to do, in words
 */
export function loseFit(
  arm: ArmState,
  misfit: NonNullable<ArmState['misfit']>,
  problem: string,
): void {
  forgetPoses(arm);
  arm.misfit = misfit;
  arm.zero = { phase: 'not-started', problem };
}

/** With the long axes the joints are known as the tape has them. */
function placeSensors(arm: ArmState, mounting: Mounting | null): void {
  const { lengthsM, sensorFromJointM } = arm.dimensions;
  const taped = mounting && leversByTape(mounting.longAxis, lengthsM, sensorFromJointM);
  arm.mounting = mounting;
  arm.taped = taped;
  arm.levers = taped && [createLeverRefinement(taped.elbow), createLeverRefinement(taped.wrist)];
}

/** Looks for a pose at the instant just appended. @param flags of that instant */
export function detectPoses(arm: ArmState, readings: ArmReadings, flags: number): void {
  if (arm.zero.phase === 'not-started') return;
  if (arm.zero.phase !== 'zeroed' && (flags & GRID_GAP) === 0) watchPose(arm, readings);
  if ((flags & GRID_IN_SHOCK) !== 0) resetHold(arm.hold);
  // A lost packet says nothing about stillness: the hold goes on with the samples that came.
  if ((flags & (GRID_GAP | GRID_IN_SHOCK)) !== 0) return;
  if (!stepHold(arm.hold, readings, GRID_STEP_US * 1e-6)) return;
  const gravity = arm.hold.gravity.map((g) => Float64Array.from(g));
  if (arm.zero.phase === 'plumb') takePlumb(arm, gravity);
  else if (arm.zero.phase === 'point') takePoint(arm, readings, gravity);
  else if (arm.mounting !== null) takePointAgain(arm, readings, arm.mounting);
}

function takePlumb(arm: ArmState, gravity: readonly Vector3[]): void {
  arm.holds.push(gravity);
  placeSensors(arm, mountingFromPlumb(gravity));
  arm.fit = createFitWatch();
  beginAnew(arm.elbow);
  beginAnew(arm.wrist);
  arm.zero = { phase: 'point', problem: null };
}

/**
 * A hold after the first. It points if it fits any earlier hold as the plumb one, the newest first: a player
 * who stood still in between, or hung the arm again, need not start over.
 */
function takePoint(arm: ArmState, readings: ArmReadings, gravity: readonly Vector3[]): void {
  const isSame = arm.holds.map((held) => largestTurn(held, gravity) < SAME_POSE_RAD);
  if (isSame[0]) {
    // The arm still hangs, or hangs again because the first hold may have been the poor one: then the level
    // hold in between must not be taken for the plumb one.
    if (arm.zero.phase === 'point' && arm.zero.problem !== null) hangAgain(arm, gravity);
    return;
  }
  const moved = arm.holds.filter((_, i) => !isSame[i]);
  const results = moved.map((held) => mountingFromPoint(mountingFromPlumb(held), gravity));
  const fits = results.findLastIndex((result) => result.ok);
  const fitting = results[fits];
  if (fitting?.ok) {
    // Only the first hold's long axes were there to be compared on the way from one pose to the other.
    const seen = moved[fits] === arm.holds[0] ? likeliestFit(arm.fit.identity) : null;
    const problem = seen === null ? null : fitProblem(seen);
    if (seen === null || problem === null) startZeroed(arm, readings, fitting.mounting);
    else loseFit(arm, misfitOf(seen), problem);
    return;
  }
  const newest = results.at(-1);
  if (newest !== undefined && !newest.ok) arm.zero = { phase: 'point', problem: newest.problem };
  if (isSame.some((same) => same)) return;
  arm.holds.push(gravity);
  if (arm.holds.length > MOST_HOLDS) arm.holds.splice(1, 1);
}

function hangAgain(arm: ArmState, gravity: readonly Vector3[]): void {
  arm.holds.length = 0;
  takePlumb(arm, gravity);
}

function startZeroed(arm: ArmState, readings: ArmReadings, mounting: Mounting): void {
  placeSensors(arm, mounting);
  arm.fit = createFitWatch();
  const [upper, fore, hand] = pointedHeadings(readings, mounting);
  setCourtHeading(arm, upper);
  setAgreement(arm.elbow, wrapAngle(upper - fore), Math.SQRT2 * POINTING_SD_RAD);
  setAgreement(arm.wrist, wrapAngle(fore - hand), Math.SQRT2 * POINTING_SD_RAD);
  arm.zero = { phase: 'zeroed', atTimeUs: arm.timeline.nextUs - GRID_STEP_US };
}

/** A hold at the target during the set is a fresh look at every heading. */
function takePointAgain(arm: ArmState, readings: ArmReadings, mounting: Mounting): void {
  const level = mounting.longAxis.every((axis, k) => {
    rotate(pointed, readings[k]!.qEarthFromSensor, axis);
    return Math.abs(pointed[2]!) < Math.sin(LEVEL_RAD);
  });
  if (!level) return;
  const [upper, fore, hand] = pointedHeadings(readings, mounting);
  const elbow = wrapAngle(upper - fore);
  const wrist = wrapAngle(fore - hand);
  updateAgreement(arm.elbow);
  updateAgreement(arm.wrist);
  const off = [
    arm.courtHeadingKnown ? wrapAngle(upper + arm.courtHeadingRad) : 0,
    wrapAngle(elbow - arm.elbow.deltaRad),
    wrapAngle(wrist - arm.wrist.deltaRad),
  ];
  if (off.some((angle) => Math.abs(angle) > POINTING_AGAIN_RAD)) return;
  setCourtHeading(arm, upper);
  correctAgreement(arm.elbow, elbow, Math.SQRT2 * POINTING_SD_RAD);
  correctAgreement(arm.wrist, wrist, Math.SQRT2 * POINTING_SD_RAD);
  arm.zero = { phase: 'zeroed', atTimeUs: arm.timeline.nextUs - GRID_STEP_US };
}

/** The upper arm points at the target. @param headingRad of its long axis in its own earth frame */
function setCourtHeading(arm: ArmState, headingRad: number): void {
  arm.courtHeadingRad = -headingRad;
  arm.courtHeadingKnown = true;
}

/** Heading of each long axis in its own earth frame now, rad. */
function pointedHeadings(readings: ArmReadings, mounting: Mounting): [number, number, number] {
  const heading = (k: 0 | 1 | 2) => {
    rotate(pointed, readings[k].qEarthFromSensor, mounting.longAxis[k]);
    return Math.atan2(pointed[1]!, pointed[0]!);
  };
  return [heading(0), heading(1), heading(2)];
}
