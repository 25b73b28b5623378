import { GRID_GAP, GRID_IN_SHOCK, GRID_STEP_US, noteJointForce } from '../arm/arm-timeline.ts';
import { addGyroEvidence } from '../arm/gyro-evidence.ts';
import { addJointAcceleration, passTime, updateAgreement } from '../arm/heading-agreement.ts';
import { jointSpecificForce } from '../arm/joint-acceleration.ts';
import {
  addLeverEvidence,
  createLeverRefinement,
  type LeverRefinement,
  updateLevers,
} from '../arm/lever-refinement.ts';
import type { Mounting } from '../arm/mounting.ts';
import { SEGMENTS } from '../arm/segments.ts';
import { addScaled, norm, vector3 } from '../maths/vector.ts';
import {
  SAMPLE_BEFORE_SHOCK,
  SAMPLE_IN_SHOCK,
  type TrackReading,
} from '../orientation/sensor-track.ts';
import type { ArmDimensions, ArmReadings, ArmState } from './arm-state.ts';
import { addFitEvidence, FIT_EVIDENCE_EVERY } from './fit-watch.ts';
import type { PipelineParams } from './params.ts';

/** What the gyroscopes' errors are shows while the arm is fast, both sensors of a joint together, at 50 instants a second. */
const FAST_RAD_S = 6;
const GYRO_EVIDENCE_EVERY = 4;
const STEP_S = GRID_STEP_US * 1e-6;
/** Windows of heading agreement between contacts, seconds. */
const WINDOW_S = 1;

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
  const { mounting } = arm;
  const shocked = (flags & GRID_IN_SHOCK) !== 0;
  const knocks = shocked && !arm.inShock ? 1 : 0;
  arm.inShock = shocked;
  if (mounting === null || !params.headingAgreement) return;
  arm.levers ??= leversByTape(mounting, arm.dimensions);
  const closing = isFelt(readings[0]) || isFelt(readings[1]) || isFelt(readings[2]);
  const isReadable = !closing && arm.timeline.nextUs >= arm.settledUs;
  const isWhole = isReadable && (flags & GRID_GAP) === 0;
  if (isWhole && arm.timeline.count % FIT_EVIDENCE_EVERY === 0) addFitEvidence(arm, readings);
  for (const joint of [0, 1] as const) {
    const state = joint === 0 ? arm.elbow : arm.wrist;
    const above = readings[joint];
    const below = readings[(joint + 1) as 1 | 2];
    const [noAbove, noBelow] = [isMissing[joint], isMissing[joint + 1]];
    const rateRadS = (noAbove ? 0 : norm(above.gyr)) + (noBelow ? 0 : norm(below.gyr));
    passTime(state, STEP_S, rateRadS * STEP_S, knocks);
    if (isReadable && !noAbove && !noBelow) {
      const lever = arm.levers[joint];
      addForces(arm, joint, lever, above, below, rateRadS);
      if (params.leverRefinement) addLeverEvidence(lever, above, below);
    }
    if (state.elapsedS >= WINDOW_S && knocks === 0) updateAgreement(state);
  }
}

/** A knock is felt in what this reading was made of. */
function isFelt({ flags }: TrackReading): boolean {
  return (flags & (SAMPLE_IN_SHOCK | SAMPLE_BEFORE_SHOCK)) !== 0;
}

/** What both sensors of a joint feel there. */
function addForces(
  arm: ArmState,
  joint: 0 | 1,
  lever: LeverRefinement,
  above: TrackReading,
  below: TrackReading,
  rateRadS: number,
): void {
  const { timeline, fit, gyroEvidence, gyroTilts } = arm;
  jointSpecificForce(proximal, above, lever.aboveM);
  jointSpecificForce(distal, below, lever.belowM);
  const isHeard = timeline.count % GYRO_EVIDENCE_EVERY === 0 && !fit.hasFallen;
  if (isHeard && rateRadS > FAST_RAD_S) {
    addGyroEvidence(gyroEvidence, joint, proximal, distal, gyroTilts);
  }
  const state = joint === 0 ? arm.elbow : arm.wrist;
  addJointAcceleration(state, proximal[0]!, proximal[1]!, distal[0]!, distal[1]!);
  noteJointForce(timeline, joint, norm(proximal), norm(distal));
}

/** Closes the windows just before a contact, so that the swing is read with its own headings. */
export function closeWindows(arm: ArmState): void {
  updateAgreement(arm.elbow);
  updateAgreement(arm.wrist);
  for (const lever of arm.levers ?? []) updateLevers(lever);
}

/** Elbow and wrist where tape and long axes have them. */
function leversByTape(
  mounting: Mounting,
  { lengthsM, sensorFromJointM }: ArmDimensions,
): [LeverRefinement, LeverRefinement] {
  const joint = (i: 0 | 1) => {
    const above = SEGMENTS[i]!;
    const below = SEGMENTS[i + 1]!;
    const toJointM = lengthsM[above] - sensorFromJointM[above];
    const along = (metres: number, k: 0 | 1 | 2) =>
      addScaled(vector3(), vector3(), metres, mounting.longAxis[k]);
    return createLeverRefinement(
      along(toJointM, i),
      along(-sensorFromJointM[below], (i + 1) as 1 | 2),
    );
  };
  return [joint(0), joint(1)];
}
