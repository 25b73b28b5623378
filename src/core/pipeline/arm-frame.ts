import { noteHistory } from '../arm/heading-agreement.ts';
import type { HeadingBelief } from '../arm/heading-belief.ts';
import type { Mounting } from '../arm/mounting.ts';
import type { TiltUncertainty } from '../arm/reach.ts';
import { RAD_PER_DEG } from '../maths/angles.ts';
import type { ArmFrame } from '../swings/segment-series.ts';
import type { ArmDimensions, ArmState } from './arm-state.ts';
import type { PipelineParams } from './params.ts';

/** What was known of the arm when a swing ended: enough to read it again when more is known. Plain data. */
export interface KnownArm {
  /** null: not zeroed. */
  readonly mounting: Mounting | null;
  /** A sensor that does not sit as its name and the poses say, found then or later; else null. */
  readonly misfit: ArmState['misfit'];
  /** Upper arm, forearm, implement, metres. */
  readonly lengthsM: ArmDimensions['lengthsM'];
  readonly courtHeadingRad: number;
  readonly courtHeadingKnown: boolean;
  readonly elbow: HeadingBelief;
  readonly wrist: HeadingBelief;
  /** How far the histories of both headings had come. */
  readonly elbowSteps: number;
  readonly wristSteps: number;
  /** false: an orientation began anew so recently that its inclination is not known yet. */
  readonly isSettled: boolean;
}

/** Headings less sure than this say nothing about reach, rad: after a gap, until swings or a pointing agree. */
const LEAST_AGREED_RAD = 6 * RAD_PER_DEG;

/** Takes down what is known at a contact; both headings keep their history up to here. */
export function noteArm(arm: ArmState, contactUs: number): KnownArm {
  return {
    mounting: arm.zero.phase === 'zeroed' ? arm.mounting : null,
    misfit: arm.misfit,
    lengthsM: arm.dimensions.lengthsM,
    courtHeadingRad: arm.courtHeadingRad,
    courtHeadingKnown: arm.courtHeadingKnown,
    elbow: beliefOf(arm.elbow),
    wrist: beliefOf(arm.wrist),
    elbowSteps: noteHistory(arm.elbow),
    wristSteps: noteHistory(arm.wrist),
    isSettled: contactUs >= arm.settledUs,
  };
}

function beliefOf(belief: HeadingBelief): HeadingBelief {
  const { deltaRad, driftRadS, pDelta, pCross, pDrift, noise } = belief;
  return { deltaRad, driftRadS, pDelta, pCross, pDrift, noise: { ...noise } };
}

/** The arm as it was known at a contact, or why it was not. @param tiltUncertainty live, or in review */
export function frameOf(
  known: KnownArm,
  params: PipelineParams,
  tiltUncertainty: TiltUncertainty,
): ArmFrame | 'not-zeroed' | 'unsettled' | 'swapped' | 'slipped' {
  const { mounting, lengthsM, courtHeadingRad, elbow, wrist } = known;
  if (known.misfit !== null) return known.misfit;
  if (mounting === null) return 'not-zeroed';
  const worst = Math.sqrt(Math.max(elbow.pDelta, wrist.pDelta));
  const isAgreed = worst < LEAST_AGREED_RAD || !params.headingAgreement;
  if (!known.isSettled || !isAgreed) return 'unsettled';
  const fore = courtHeadingRad + elbow.deltaRad;
  return {
    mounting,
    lengthsM: [lengthsM.upperArm, lengthsM.forearm, lengthsM.implement],
    courtHeadingKnown: known.courtHeadingKnown,
    headingRad: [courtHeadingRad, fore, fore + wrist.deltaRad],
    tiltUncertainty,
    uncertainty: {
      elbowRad: Math.sqrt(elbow.noise.pDelta),
      wristRad: Math.sqrt(wrist.noise.pDelta),
    },
  };
}
