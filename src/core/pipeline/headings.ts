import { GRID_GAP, GRID_IN_SHOCK, GRID_STEP_US, slotOf } from '../arm/arm-timeline.ts';
import { addGyroEvidence } from '../arm/gyro-evidence.ts';
import {
  addJointAcceleration,
  noteKnock,
  passTime,
  updateAgreement,
} from '../arm/heading-agreement.ts';
import { jointForceInSensor } from '../arm/joint-acceleration.ts';
import { addLeverEvidence, type LeverRefinement, updateLevers } from '../arm/lever-refinement.ts';
import { rotate } from '../maths/quaternion.ts';
import { norm, vector3 } from '../maths/vector.ts';
import {
  SAMPLE_BEFORE_SHOCK,
  SAMPLE_IN_SHOCK,
  type TrackReading,
} from '../orientation/sensor-track.ts';
import type { ArmReadings } from './arm-sensors.ts';
import type { ArmState } from './arm-state.ts';
import { addFitEvidence, EVIDENCE_EVERY } from './fit-watch.ts';
import type { PipelineParams } from './params.ts';

/** What the gyroscopes' errors are shows while the arm is fast, both sensors of a joint together. */
const FAST_RAD_S = 6;
/** Where a joint turns slower than this, both sensors together, one instant of EVIDENCE_EVERY stands for all. */
const SLOW_RAD_S = 1.5;
const STEP_S = GRID_STEP_US * 1e-6;
/** Windows of heading agreement between contacts, seconds. */
const WINDOW_S = 1;

const forceAbove = vector3();
const forceBelow = vector3();
const proximal = vector3();
const distal = vector3();

/**
 * Compares both sensors of each joint at the instant just appended, where both are there; time passes for the turn of a
 * joint in any case.
 * @param isMissing sensors whose reading is no sample of this instant @param flags of that instant
 */
export function agreeHeadings(
  arm: ArmState,
  readings: ArmReadings,
  isMissing: readonly [boolean, boolean, boolean],
  params: PipelineParams,
  flags: number,
): void {
  const { levers } = arm;
  const shocked = (flags & GRID_IN_SHOCK) !== 0;
  const isKnock = shocked && !arm.inShock;
  arm.inShock = shocked;
  if (levers === null || !params.headingAgreement) return;
  const closing = isFelt(readings[0]) || isFelt(readings[1]) || isFelt(readings[2]);
  const isReadable = !closing && arm.timeline.nextUs >= arm.settledUs;
  const isWhole = isReadable && (flags & GRID_GAP) === 0;
  const isAsked = arm.timeline.count % EVIDENCE_EVERY === 0;
  if (isWhole && isAsked) addFitEvidence(arm, readings);
  const { turnRateRadS } = arm.timeline;
  const row = 3 * slotOf(arm.timeline.count - 1);
  for (let k = 0; k < 2; k++) {
    const joint = k as 0 | 1;
    const state = joint === 0 ? arm.elbow : arm.wrist;
    const above = readings[joint];
    const below = readings[(joint + 1) as 1 | 2];
    const noAbove = isMissing[joint];
    const noBelow = isMissing[joint + 1];
    const rateRadS =
      (noAbove ? 0 : turnRateRadS[row + k]!) + (noBelow ? 0 : turnRateRadS[row + k + 1]!);
    passTime(state, STEP_S, rateRadS * STEP_S);
    if (isKnock) noteKnock(state);
    const instants = rateRadS >= SLOW_RAD_S ? 1 : isAsked ? EVIDENCE_EVERY : 0;
    if (instants > 0 && isReadable && !noAbove && !noBelow) {
      addForces(arm, joint, levers[joint], above, below, instants, params.leverRefinement);
    }
    if (state.elapsedS >= WINDOW_S && !isKnock) updateAgreement(state);
  }
}

/** A knock is felt in what this reading was made of. */
function isFelt({ flags }: TrackReading): boolean {
  return (flags & (SAMPLE_IN_SHOCK | SAMPLE_BEFORE_SHOCK)) !== 0;
}

/** What both sensors of a joint feel there. @param instants that this one stands for */
function addForces(
  arm: ArmState,
  joint: 0 | 1,
  lever: LeverRefinement,
  above: TrackReading,
  below: TrackReading,
  instants: number,
  isRefined: boolean,
): void {
  const { timeline, fit, gyroEvidence, gyroTilts } = arm;
  jointForceInSensor(forceAbove, above, lever.aboveM);
  jointForceInSensor(forceBelow, below, lever.belowM);
  rotate(proximal, above.qEarthFromSensor, forceAbove);
  rotate(distal, below.qEarthFromSensor, forceBelow);
  if (timeline.count % EVIDENCE_EVERY === 0) {
    if (isRefined) addLeverEvidence(lever, above, below, forceAbove, forceBelow);
    const isFast = norm(above.gyr) + norm(below.gyr) > FAST_RAD_S;
    if (isFast && !fit.hasFallen) {
      addGyroEvidence(gyroEvidence, joint, proximal, distal, gyroTilts);
    }
  }
  addJointAcceleration(joint === 0 ? arm.elbow : arm.wrist, proximal, distal, instants);
}

/** Closes the windows just before a contact, so that the swing is read with its own headings. */
export function closeWindows(arm: ArmState): void {
  updateAgreement(arm.elbow);
  updateAgreement(arm.wrist);
  for (const lever of arm.levers ?? []) updateLevers(lever);
}
