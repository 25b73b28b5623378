import { type ArmTimeline, createTimeline } from '../arm/arm-timeline.ts';
import type { ChainLevers } from '../arm/chain-levers.ts';
import { createGyroEvidence, type GyroEvidence } from '../arm/gyro-evidence.ts';
import { createGyroTilt, type GyroTilt } from '../arm/gyro-tilt.ts';
import { createAgreement, type HeadingAgreement } from '../arm/heading-agreement.ts';
import { createHoldDetector, type HoldDetector } from '../arm/hold-detector.ts';
import { createIdentityCheck, FITS, type IdentityCheck } from '../arm/identity-check.ts';
import type { LeverRefinement } from '../arm/lever-refinement.ts';
import { createMotionTilt, type MotionTilt } from '../arm/motion-tilt.ts';
import type { Mounting } from '../arm/mounting.ts';
import { createSlipWatch, type SlipWatch } from '../arm/slip-watch.ts';
import { createTiltEvidence, type TiltEvidence } from '../arm/tilt-evidence.ts';
import type { Vector3 } from '../maths/vector.ts';
import type { SetDescription } from '../recording/set-description.ts';
import { createLags, type Lags } from './lag-alignment.ts';
import type { ZeroState } from './outputs.ts';

/** Whether each sensor sits where its name says and as it did in the poses. */
export interface FitWatch {
  /** From the first pose to the second, then in each swing. */
  identity: IdentityCheck;
  tilt: TiltEvidence;
  /** The implement fell from the hand since the last contact. */
  hasFallen: boolean;
  /** Looks in a row that found the whole arm at rest since. */
  restedLooks: number;
  /** After a gap the orientations are good enough to judge tilts by from here on, host time, microseconds. */
  trustedUs: number;
  readonly slip: SlipWatch;
  /** Swings since one last spoke clearly against each way the sensors may sit wrong, in the order of FITS. */
  readonly unproven: number[];
}

/** Nothing seen of the fit yet. */
export function createFitWatch(): FitWatch {
  return {
    identity: createIdentityCheck(),
    tilt: createTiltEvidence(),
    hasFallen: false,
    restedLooks: 0,
    trustedUs: 0,
    slip: createSlipWatch(),
    unproven: FITS.map(() => 0),
  };
}

/** What the coach is shown while the poses are taken, at the last instant with data. Plain data, by segment. */
export interface PoseWatch {
  readonly isStill: [boolean, boolean, boolean];
  /** rad; NaN before the first hold. */
  readonly elevationRad: [number, number, number];
}

/** Nothing seen yet. */
function createPoseWatch(): PoseWatch {
  return {
    isStill: [false, false, false],
    elevationRad: [Number.NaN, Number.NaN, Number.NaN],
  };
}

/** Lengths of the segments and where the sensors sit on them, metres. */
export type ArmDimensions = Pick<SetDescription, 'lengthsM' | 'sensorFromJointM'>;

/** The three sensors together: timeline, poses, headings, lags. Plain data. */
export interface ArmState {
  readonly timeline: ArmTimeline;
  /** Change with the implement. */
  dimensions: ArmDimensions;
  readonly hold: HoldDetector;
  readonly poseWatch: PoseWatch;
  /** Where reading each sensor's track went on, absolute sample numbers. */
  readonly cursors: [number, number, number];
  zero: ZeroState;
  /** Long axes are known after the first hold, from the poses themselves once zeroed. */
  mounting: Mounting | null;
  /** Joints as seen from the sensors, by tape and refined (elbow, wrist); null while the long axes are unknown. */
  taped: ChainLevers | null;
  levers: readonly [LeverRefinement, LeverRefinement] | null;
  fit: FitWatch;
  /** Why a zero was lost that swings relied on, until the poses are asked for again; null when none was. */
  misfit: 'swapped' | 'slipped' | null;
  /** Gravity in the holds since the poses were asked for, oldest first: any may have been the plumb one. */
  readonly holds: (readonly Vector3[])[];
  readonly motion: MotionTilt;
  /** What the gyroscopes' own errors did to the three verticals, and what the swings say of those errors. */
  readonly gyroTilts: readonly [GyroTilt, GyroTilt, GyroTilt];
  /** The instant those are of, absolute number. */
  gyroTiltsInstant: number;
  readonly gyroEvidence: GyroEvidence;
  readonly elbow: HeadingAgreement;
  readonly wrist: HeadingAgreement;
  /** Heading of the upper arm's earth frame in the court frame, rad, from the last pointing. */
  courtHeadingRad: number;
  /** false when the upper arm's orientation has begun anew since. */
  courtHeadingKnown: boolean;
  inShock: boolean;
  /** Instants in a row that each sensor was missing. */
  readonly missingInstants: [number, number, number];
  /** Instants in a row at which no sensor was heard. */
  silentInstants: number;
  /** After a long gap the inclination is good again from here on, host time, microseconds. */
  settledUs: number;
  readonly lags: Lags;
}

/** Nothing known yet. */
export function createArmState({ lengthsM, sensorFromJointM }: ArmDimensions): ArmState {
  return {
    dimensions: { lengthsM, sensorFromJointM },
    timeline: createTimeline(),
    hold: createHoldDetector(),
    poseWatch: createPoseWatch(),
    cursors: [0, 0, 0],
    zero: { phase: 'not-started', problem: null },
    mounting: null,
    taped: null,
    levers: null,
    fit: createFitWatch(),
    misfit: null,
    holds: [],
    motion: createMotionTilt(),
    gyroTilts: [createGyroTilt(), createGyroTilt(), createGyroTilt()],
    gyroTiltsInstant: 0,
    gyroEvidence: createGyroEvidence(),
    elbow: createAgreement(),
    wrist: createAgreement(),
    courtHeadingRad: 0,
    courtHeadingKnown: false,
    inShock: false,
    missingInstants: [0, 0, 0],
    silentInstants: 0,
    settledUs: 0,
    lags: createLags(),
  };
}
