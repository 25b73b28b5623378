import { type PerSegment, SEGMENTS, type Segment, segmentIndex } from '../arm/segments.ts';
import { hostTimeUs } from '../clocks/clock-map.ts';
import { summariseFunnel } from '../measures/funnel.ts';
import type { SetDescription } from '../recording/set-description.ts';
import type { SetRecord } from '../recording/set-record.ts';
import { analyseSwing, armStruck, type Contact } from '../swings/analyse-swing.ts';
import {
  type ContactDetector,
  createContactDetector,
  detectContact,
} from '../swings/contact-detector.ts';
import type { ArmFrame } from '../swings/reach-series.ts';
import type { Swing } from '../swings/swing.ts';
import {
  type ArmStage,
  advanceArm,
  closeWindows,
  createArmStage,
  loseZero,
  requestZero,
} from './arm-stage.ts';
import type { LiveView, PipelineOutput, SensorHealth, ZeroState } from './outputs.ts';
import { DEFAULT_PARAMS, type PipelineParams } from './params.ts';
import { createScoreBook, noteEvent, type ScoreBook, scoredSwing } from './score-book.ts';
import {
  createIntake,
  healthOf,
  type SensorIntake,
  takeInfo,
  takeNotification,
} from './sensor-intake.ts';

/**
 * Everything between a radio byte and a reach. Plain data (structuredClone-able with the default filter):
 * saved and resumed, it goes on to the same numbers bit for bit.
 */
export interface PipelineState {
  readonly description: SetDescription;
  readonly params: PipelineParams;
  readonly intakes: readonly [SensorIntake, SensorIntake, SensorIntake];
  readonly arm: ArmStage;
  readonly contacts: ContactDetector;
  /** Unwrapped ticks of contacts on the implement sensor that the timeline has not reached yet. */
  readonly pendingContacts: number[];
  readonly swings: Swing[];
  readonly scores: ScoreBook;
  hostTimeUs: number;
}

/** Fresh pipeline for one set. */
export function createPipeline(
  description: SetDescription,
  params: PipelineParams = DEFAULT_PARAMS,
): PipelineState {
  return {
    description,
    params,
    intakes: [createIntake(), createIntake(), createIntake()],
    arm: createArmStage(),
    contacts: createContactDetector(),
    pendingContacts: [],
    swings: [],
    scores: createScoreBook(),
    hostTimeUs: 0,
  };
}

/**
 * Takes in one record: the one way through for every sample, live, in review, in batch and in tests.
 * Deterministic; nothing depends on how records are grouped. Mutates `state`.
 * @returns what there is to say, in order
 */
export function stepPipeline(state: PipelineState, record: SetRecord): PipelineOutput[] {
  const outputs: PipelineOutput[] = [];
  state.hostTimeUs = Math.max(state.hostTimeUs, record.hostTimeUs);
  if (record.kind === 'event') {
    if (record.event.type === 'zero-requested') requestZero(state.arm);
    else noteEvent(state.scores, record.event);
    if (record.event.type === 'zero-requested')
      outputs.push({ kind: 'zero', zero: state.arm.zero });
    return outputs;
  }
  const intake = state.intakes[segmentIndex(record.segment)];
  const restarts = intake.restarts;
  const fault =
    record.kind === 'sensor-info'
      ? takeInfo(intake, record.bytes, state.params.filter)
      : takeNotification(
          intake,
          record.bytes,
          record.hostTimeUs,
          state.params.filter,
          (from, knocked, dtS) => {
            if (record.segment === 'implement') lookForContact(state, from, knocked, dtS);
          },
        );
  if (fault !== null) {
    const { segment, hostTimeUs: at } = record;
    outputs.push({ kind: 'packet-refused', segment, hostTimeUs: at, message: fault });
    return outputs;
  }
  if (intake.restarts > restarts) {
    forgetContacts(state, record.segment);
    if (loseZero(state.arm, record.segment)) outputs.push({ kind: 'zero', zero: state.arm.zero });
  }
  let zero: ZeroState = state.arm.zero;
  advanceArm(state.arm, state.intakes, state.description, state.params, () => {
    if (state.arm.zero !== zero) {
      zero = state.arm.zero;
      outputs.push({ kind: 'zero', zero });
    }
    const swing = finishSwing(state);
    if (swing !== null) outputs.push({ kind: 'swing', swing });
  });
  return outputs;
}

function lookForContact(
  state: PipelineState,
  intake: SensorIntake,
  knocked: boolean,
  dtS: number,
): void {
  if (intake.track === null) return;
  const tick = detectContact(state.contacts, intake.track, knocked, dtS);
  if (tick !== null) state.pendingContacts.push(tick);
}

/** Contacts are told in ticks of the implement sensor; a new run of it has other ticks. */
function forgetContacts(state: PipelineState, segment: Segment): void {
  if (segment !== 'implement') return;
  state.pendingContacts.length = 0;
  Object.assign(state.contacts, createContactDetector());
}

/** Reads the swing once the timeline has reached its contact. */
function finishSwing(state: PipelineState): Swing | null {
  const tick = state.pendingContacts[0];
  const implement = state.intakes[2];
  if (tick === undefined || implement.clock === null || implement.info === null) return null;
  const { timeline } = state.arm;
  const timeUs = hostTimeUs(implement.clock, tick);
  if (timeline.nextUs <= timeUs) return null;
  state.pendingContacts.shift();
  if (!armStruck(timeline, timeUs)) return null;
  closeWindows(state.arm);
  // Contact lies anywhere between two samples: a uniform error of one interval.
  const standardErrorUs = 1e6 / implement.info.rateHz / Math.sqrt(12);
  const contact: Contact = { timeUs, standardErrorUs };
  const swing = analyseSwing(timeline, contact, frameOf(state), state.swings.length);
  state.swings.push(swing);
  return swing;
}

/** The arm as it is known now; null until zeroed. */
function frameOf(state: PipelineState): ArmFrame | null {
  const { arm, description } = state;
  if (arm.zero.phase !== 'zeroed' || arm.mounting === null) return null;
  const court = arm.courtHeadingRad;
  const fore = court + arm.elbow.deltaRad;
  return {
    mounting: arm.mounting,
    lengthsM: SEGMENTS.map((segment) => description.lengthsM[segment]),
    headingRad: [court, fore, fore + arm.wrist.deltaRad],
    uncertainty: { elbowRad: Math.sqrt(arm.elbow.pDelta), wristRad: Math.sqrt(arm.wrist.pDelta) },
  };
}

/** The set so far, as screens and reports see it. */
export function viewPipeline(state: PipelineState): LiveView {
  const swings = state.swings.map((swing) => scoredSwing(state.scores, swing));
  const [upperArm, forearm, implement] = state.intakes.map(healthOf) as [
    SensorHealth,
    SensorHealth,
    SensorHealth,
  ];
  const sensors: PerSegment<SensorHealth> = { upperArm, forearm, implement };
  return {
    hostTimeUs: state.hostTimeUs,
    sensors,
    zero: state.arm.zero,
    swings,
    funnel: summariseFunnel(swings.filter((s) => !s.discarded).map((s) => s.swing)),
  };
}
