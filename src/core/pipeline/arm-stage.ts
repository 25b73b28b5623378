import {
  type ArmTimeline,
  appendInstant,
  createTimeline,
  GRID_CLIPPED,
  GRID_GAP,
  GRID_IN_SHOCK,
  GRID_INTERPOLATED,
  GRID_STEP_US,
} from '../arm/arm-timeline.ts';
import {
  addJointAcceleration,
  correctAgreement,
  createAgreement,
  type HeadingAgreement,
  passTime,
  setAgreement,
  updateAgreement,
} from '../arm/heading-agreement.ts';
import {
  createHoldDetector,
  type HoldDetector,
  resetHold,
  stepHold,
} from '../arm/hold-detector.ts';
import { jointSpecificForce } from '../arm/joint-acceleration.ts';
import {
  largestTurn,
  type Mounting,
  mountingFromPlumb,
  mountingFromPoint,
  SAME_POSE_RAD,
} from '../arm/mounting.ts';
import { SEGMENT_WORDS, SEGMENTS, type Segment } from '../arm/segments.ts';
import { type ClockMap, hostTimeUs, tickAt } from '../clocks/clock-map.ts';
import { RAD_PER_DEG, wrapAngle } from '../maths/angles.ts';
import { rotate } from '../maths/quaternion.ts';
import { norm, type Vector3, vector3 } from '../maths/vector.ts';
import {
  createReading,
  readTrack,
  SAMPLE_BEFORE_SHOCK,
  SAMPLE_CLIPPED,
  SAMPLE_IN_SHOCK,
  type SensorTrack,
  TRACK_CAPACITY,
} from '../orientation/sensor-track.ts';
import type { SetDescription } from '../recording/set-description.ts';
import type { ZeroState } from './outputs.ts';
import type { PipelineParams } from './params.ts';
import type { SensorIntake } from './sensor-intake.ts';

/** The three sensors together: timeline, poses, headings. Plain data. */
export interface ArmStage {
  readonly timeline: ArmTimeline;
  readonly hold: HoldDetector;
  /** Where reading each sensor's track went on, absolute sample numbers. */
  readonly cursors: [number, number, number];
  zero: ZeroState;
  /** Long axes are known after the first hold, from the poses themselves once zeroed. */
  mounting: Mounting | null;
  /** Gravity in the holds since the poses were asked for, oldest first: any may have been the plumb one. */
  readonly holds: (readonly Vector3[])[];
  readonly elbow: HeadingAgreement;
  readonly wrist: HeadingAgreement;
  /** Heading of the upper arm's earth frame in the court frame, rad, from the last pointing. */
  courtHeadingRad: number;
  inShock: boolean;
}

/** A sensor silent for this long no longer holds up the others, microseconds. */
const SILENCE_US = 1e6;
/** Neighbouring samples further apart than this are a gap, seconds. */
const LONGEST_INTERPOLATION_S = 0.025;
/** Windows of heading agreement between contacts, seconds. */
const WINDOW_S = 1;
/** How well a player points with one segment, SD, rad. */
const POINTING_SD_RAD = 3 * RAD_PER_DEG;
/** Pointing again: every segment within this of level. */
const LEVEL_RAD = 12 * RAD_PER_DEG;
/** And within this of where it is believed to point. */
const POINTING_AGAIN_RAD = 30 * RAD_PER_DEG;

/** Holds remembered while waiting for the pointing one. */
const MOST_HOLDS = 4;

/** Nothing known yet. */
export function createArmStage(): ArmStage {
  return {
    timeline: createTimeline(),
    hold: createHoldDetector(),
    cursors: [0, 0, 0],
    zero: { phase: 'not-started', problem: null },
    mounting: null,
    holds: [],
    elbow: createAgreement(),
    wrist: createAgreement(),
    courtHeadingRad: 0,
    inShock: false,
  };
}

/** The coach asks for the two poses, for the first time or again. */
export function requestZero(arm: ArmStage): void {
  forgetPoses(arm);
  arm.zero = { phase: 'plumb', problem: null };
}

function forgetPoses(arm: ArmStage): void {
  arm.mounting = null;
  arm.holds.length = 0;
  resetHold(arm.hold);
}

/**
 * A sensor began anew, switched off and on or exchanged: where it points and how it sits are lost.
 * @returns true when that asks for new poses
 */
export function loseZero(arm: ArmStage, segment: Segment): boolean {
  if (arm.zero.phase === 'not-started') return false;
  forgetPoses(arm);
  const problem = `The ${SEGMENT_WORDS[segment]} sensor began anew: both poses are needed again.`;
  arm.zero = { phase: 'not-started', problem };
  return true;
}

const readings = [createReading(), createReading(), createReading()] as const;
const gyrs = readings.map((r) => r.gyr);
const accs = readings.map((r) => r.acc);
const orientations = readings.map((r) => r.qEarthFromSensor);
const implementRate = vector3();

/**
 * Advances the timeline as far as all three sensors reach.
 * @param onInstant called after each instant
 */
export function advanceArm(
  arm: ArmStage,
  intakes: readonly SensorIntake[],
  description: SetDescription,
  params: PipelineParams,
  onInstant: () => void,
): void {
  const [u, f, m] = intakes;
  if (!u?.clock || !f?.clock || !m?.clock || !u.track || !f.track || !m.track) return;
  const clocks = [u.clock, f.clock, m.clock];
  const tracks = [u.track, f.track, m.track];
  const newestUs = Math.max(...intakes.map((intake) => intake.lastArrivalUs));
  if (Number.isNaN(arm.timeline.nextUs)) {
    if (tracks.some((track) => track.count < 4)) return;
    const firstUs = Math.max(...tracks.map((track, k) => oldestUs(track, clocks[k]!)));
    arm.timeline.nextUs = Math.ceil(firstUs / GRID_STEP_US) * GRID_STEP_US;
  }
  for (;;) {
    const flags = readInstant(arm, tracks, clocks, newestUs);
    if (flags === null) return;
    rotate(implementRate, readings[2].qEarthFromSensor, readings[2].gyr);
    appendInstant(arm.timeline, orientations, implementRate, norm(readings[1].gyr), flags);
    if ((flags & GRID_GAP) === 0) agreeHeadings(arm, description, params, flags);
    detectPoses(arm, flags);
    onInstant();
  }
}

function oldestUs(track: SensorTrack, clock: ClockMap): number {
  const oldest = Math.max(2, track.count - TRACK_CAPACITY + 2);
  return hostTimeUs(clock, track.tick[oldest & (TRACK_CAPACITY - 1)]!);
}

/** Reads all sensors at the next instant; null while one may still deliver it. */
function readInstant(
  arm: ArmStage,
  tracks: readonly SensorTrack[],
  clocks: readonly ClockMap[],
  newestUs: number,
): number | null {
  const { nextUs } = arm.timeline;
  let flags = 0;
  for (let k = 0; k < 3; k++) {
    const clock = clocks[k]!;
    const reading = readings[k]!;
    const from = readTrack(
      tracks[k]!,
      tickAt(clock, nextUs),
      clock.tickHz,
      arm.cursors[k]!,
      reading,
    );
    if (from < 0) {
      if (newestUs - nextUs < SILENCE_US) return null;
      flags |= GRID_GAP;
      continue;
    }
    arm.cursors[k] = from;
    if ((reading.flags & SAMPLE_CLIPPED) !== 0) flags |= GRID_CLIPPED;
    if ((reading.flags & SAMPLE_IN_SHOCK) !== 0) flags |= GRID_IN_SHOCK;
    if (reading.spacingS > LONGEST_INTERPOLATION_S) flags |= GRID_GAP;
    else if (reading.spacingS > 1.5 * tracks[k]!.intervalS) flags |= GRID_INTERPOLATED;
  }
  return flags;
}

const proximal = vector3();
const distal = vector3();

/** Compares both sensors of each joint at this instant. */
function agreeHeadings(
  arm: ArmStage,
  description: SetDescription,
  params: PipelineParams,
  flags: number,
): void {
  const { mounting } = arm;
  const shocked = (flags & GRID_IN_SHOCK) !== 0;
  const knocks = shocked && !arm.inShock ? 1 : 0;
  arm.inShock = shocked;
  if (mounting === null || !params.headingAgreement) return;
  const closing = readings.some((r) => (r.flags & (SAMPLE_IN_SHOCK | SAMPLE_BEFORE_SHOCK)) !== 0);
  const stepS = GRID_STEP_US * 1e-6;
  for (const [state, i, j] of [
    [arm.elbow, 0, 1],
    [arm.wrist, 1, 2],
  ] as const) {
    const above = readings[i];
    const below = readings[j];
    passTime(state, stepS, (norm(above.gyr) + norm(below.gyr)) * stepS, knocks);
    if (!closing) {
      const upper = SEGMENTS[i];
      const toJointM = description.lengthsM[upper] - description.sensorFromJointM[upper];
      jointSpecificForce(proximal, above, mounting.longAxis[i], toJointM);
      jointSpecificForce(
        distal,
        below,
        mounting.longAxis[j],
        -description.sensorFromJointM[SEGMENTS[j]],
      );
      addJointAcceleration(state, proximal[0]!, proximal[1]!, distal[0]!, distal[1]!);
    }
    if (state.elapsedS >= WINDOW_S && knocks === 0) updateAgreement(state);
  }
}

/** Closes the windows just before a contact, so that the swing is read with its own headings. */
export function closeWindows(arm: ArmStage): void {
  updateAgreement(arm.elbow);
  updateAgreement(arm.wrist);
}

function detectPoses(arm: ArmStage, flags: number): void {
  if (arm.zero.phase === 'not-started') return;
  if ((flags & GRID_IN_SHOCK) !== 0) resetHold(arm.hold);
  // A lost packet says nothing about stillness: the hold goes on with the samples that came.
  if ((flags & (GRID_GAP | GRID_IN_SHOCK)) !== 0) return;
  if (!stepHold(arm.hold, gyrs, accs, GRID_STEP_US * 1e-6)) return;
  const gravity = arm.hold.gravity.map((g) => Float64Array.from(g));
  if (arm.zero.phase === 'plumb') takePlumb(arm, gravity);
  else if (arm.zero.phase === 'point') takePoint(arm, gravity);
  else if (arm.mounting !== null) takePointAgain(arm, arm.mounting);
}

function takePlumb(arm: ArmStage, gravity: readonly Vector3[]): void {
  arm.holds.push(gravity);
  arm.mounting = mountingFromPlumb(gravity);
  Object.assign(arm.elbow, createAgreement());
  Object.assign(arm.wrist, createAgreement());
  arm.zero = { phase: 'point', problem: null };
}

/**
 * A hold after the first. It points if it fits any earlier hold as the plumb one, the newest first: a player
 * who stood still in between, or hung the arm again, need not start over.
 */
function takePoint(arm: ArmStage, gravity: readonly Vector3[]): void {
  const isSame = arm.holds.map((held) => largestTurn(held, gravity) < SAME_POSE_RAD);
  const moved = arm.holds.filter((_, i) => !isSame[i]);
  const results = moved.map((held) => mountingFromPoint(mountingFromPlumb(held), gravity));
  const fitting = results.findLast((result) => result.ok);
  if (fitting?.ok) {
    startZeroed(arm, fitting.mounting);
    return;
  }
  if (isSame[0]) return; // the arm still hangs
  const newest = results.at(-1);
  if (newest !== undefined && !newest.ok) arm.zero = { phase: 'point', problem: newest.problem };
  if (isSame.some((same) => same)) return;
  arm.holds.push(gravity);
  if (arm.holds.length > MOST_HOLDS) arm.holds.splice(1, 1);
}

function startZeroed(arm: ArmStage, mounting: Mounting): void {
  arm.mounting = mounting;
  const [upper, fore, hand] = pointedHeadings(mounting);
  arm.courtHeadingRad = -upper;
  setAgreement(arm.elbow, wrapAngle(upper - fore), Math.SQRT2 * POINTING_SD_RAD);
  setAgreement(arm.wrist, wrapAngle(fore - hand), Math.SQRT2 * POINTING_SD_RAD);
  arm.zero = { phase: 'zeroed', atTimeUs: arm.timeline.nextUs - GRID_STEP_US };
}

/** A hold at the target during the set is a fresh look at every heading. */
function takePointAgain(arm: ArmStage, mounting: Mounting): void {
  const level = mounting.longAxis.every((axis, k) => {
    rotate(proximal, readings[k]!.qEarthFromSensor, axis);
    return Math.abs(proximal[2]!) < Math.sin(LEVEL_RAD);
  });
  if (!level) return;
  const [upper, fore, hand] = pointedHeadings(mounting);
  const elbow = wrapAngle(upper - fore);
  const wrist = wrapAngle(fore - hand);
  updateAgreement(arm.elbow);
  updateAgreement(arm.wrist);
  const off = [
    wrapAngle(upper + arm.courtHeadingRad),
    wrapAngle(elbow - arm.elbow.deltaRad),
    wrapAngle(wrist - arm.wrist.deltaRad),
  ];
  if (off.some((angle) => Math.abs(angle) > POINTING_AGAIN_RAD)) return;
  arm.courtHeadingRad = -upper;
  correctAgreement(arm.elbow, elbow, Math.SQRT2 * POINTING_SD_RAD);
  correctAgreement(arm.wrist, wrist, Math.SQRT2 * POINTING_SD_RAD);
  arm.zero = { phase: 'zeroed', atTimeUs: arm.timeline.nextUs - GRID_STEP_US };
}

/** Heading of each long axis in its own earth frame now, rad. */
function pointedHeadings(mounting: Mounting): [number, number, number] {
  const heading = (k: 0 | 1 | 2) => {
    rotate(proximal, readings[k].qEarthFromSensor, mounting.longAxis[k]);
    return Math.atan2(proximal[1]!, proximal[0]!);
  };
  return [heading(0), heading(1), heading(2)];
}
