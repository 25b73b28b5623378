import { type PerSegment, SEGMENTS, type Segment, segmentIndex } from '../arm/segments.ts';
import { hostTimeUs } from '../clocks/clock-map.ts';
import { RAD_PER_DEG } from '../maths/angles.ts';
import { summariseFunnel } from '../measures/funnel.ts';
import type { SetDescription } from '../recording/set-description.ts';
import type { SetEvent, SetRecord } from '../recording/set-record.ts';
import { analyseSwing, armStruck, type Contact } from '../swings/analyse-swing.ts';
import {
  type ContactDetector,
  createContactDetector,
  detectContact,
} from '../swings/contact-detector.ts';
import type { ArmFrame } from '../swings/reach-series.ts';
import type { Swing } from '../swings/swing.ts';
import { advanceArm } from './arm-stage.ts';
import { type ArmState, createArmState } from './arm-state.ts';
import { closeWindows } from './headings.ts';
import { alignBySwing, forgetLags, requestShake } from './lag-alignment.ts';
import type { LiveView, PipelineOutput, SensorHealth, ZeroState } from './outputs.ts';
import { DEFAULT_PARAMS, type PipelineParams } from './params.ts';
import { createScoreBook, noteEvent, type ScoreBook, scoredSwing } from './score-book.ts';
import {
  createIntake,
  healthOf,
  type SampleListener,
  type SensorIntake,
  takeInfo,
  takeLoss,
  takeNotification,
  takePing,
} from './sensor-intake.ts';
import { loseZero, requestZero } from './zeroing.ts';

/**
 * Everything between a radio byte and a reach. Plain data (structuredClone-able with the default filter):
 * saved and resumed, it goes on to the same numbers bit for bit.
 */
export interface PipelineState {
  readonly description: SetDescription;
  readonly params: PipelineParams;
  readonly intakes: readonly [SensorIntake, SensorIntake, SensorIntake];
  readonly arm: ArmState;
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
    arm: createArmState(),
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
  if (record.kind === 'event') stepEvent(state, record.event, record.hostTimeUs, outputs);
  else stepBytes(state, record, outputs);
  return outputs;
}

function stepEvent(
  state: PipelineState,
  event: SetEvent,
  atUs: number,
  outputs: PipelineOutput[],
): void {
  switch (event.type) {
    case 'zero-requested':
      requestZero(state.arm);
      outputs.push({ kind: 'zero', zero: state.arm.zero });
      break;
    case 'shake-requested':
      requestShake(state.arm.lags);
      break;
    case 'clock-ping':
      takePing(intakeOf(state, event.segment), event.tick, event.sentTimeUs, atUs);
      break;
    case 'packets-lost': {
      const { segment, firstSequence, count } = event;
      const listener = sampleListener(state, segment);
      const fault = takeLoss(intakeOf(state, segment), firstSequence, count, listener);
      tellFault(fault, segment, atUs, outputs);
      advance(state, outputs);
      break;
    }
    default:
      noteEvent(state.scores, event);
  }
}

function stepBytes(
  state: PipelineState,
  record: Exclude<SetRecord, { kind: 'event' }>,
  outputs: PipelineOutput[],
): void {
  const { segment, hostTimeUs: atUs, bytes } = record;
  const { filter } = state.params;
  const intake = intakeOf(state, segment);
  const { restarts } = intake;
  const fault =
    record.kind === 'sensor-info'
      ? takeInfo(intake, bytes, filter)
      : takeNotification(intake, bytes, atUs, filter, sampleListener(state, segment));
  tellFault(fault, segment, atUs, outputs);
  if (intake.restarts > restarts) {
    forgetContacts(state, segment);
    forgetLags(state.arm.lags, segment);
    if (loseZero(state.arm, segment)) outputs.push({ kind: 'zero', zero: state.arm.zero });
  }
  advance(state, outputs);
}

function intakeOf(state: PipelineState, segment: Segment): SensorIntake {
  return state.intakes[segmentIndex(segment)];
}

function tellFault(
  fault: string | null,
  segment: Segment,
  hostTimeUs: number,
  outputs: PipelineOutput[],
): void {
  if (fault === null) return;
  outputs.push({ kind: 'packet-refused', segment, hostTimeUs, message: fault });
}

/** Carries the arm, and the swings that have ended, as far as the samples reach. */
function advance(state: PipelineState, outputs: PipelineOutput[]): void {
  let zero: ZeroState = state.arm.zero;
  advanceArm(state.arm, state.intakes, state.description, state.params, () => {
    if (state.arm.zero !== zero) {
      zero = state.arm.zero;
      outputs.push({ kind: 'zero', zero });
    }
    const swing = finishSwing(state);
    if (swing !== null) outputs.push({ kind: 'swing', swing });
  });
}

/** Contacts are looked for on the implement alone. */
function sampleListener(state: PipelineState, segment: Segment): SampleListener {
  if (segment !== 'implement') return () => {};
  return (intake, knocked, dtS) => {
    if (intake.track === null) return;
    const tick = detectContact(state.contacts, intake.track, knocked, dtS);
    if (tick !== null) state.pendingContacts.push(tick);
  };
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
  const [upper, fore] = state.intakes;
  if (upper.clock !== null && fore.clock !== null) {
    alignBySwing(state.arm.lags, [upper.clock, fore.clock, implement.clock], timeline, timeUs);
  }
  // Contact lies anywhere between two samples: a uniform error of one interval.
  const standardErrorUs = 1e6 / implement.info.rateHz / Math.sqrt(12);
  const contact: Contact = { timeUs, standardErrorUs };
  const swing = analyseSwing(timeline, contact, frameOf(state, timeUs), state.swings.length);
  state.swings.push(swing);
  return swing;
}

/** Headings less sure than this say nothing about reach, rad: after a gap, until swings or a pointing agree. */
const LEAST_AGREED_RAD = 6 * RAD_PER_DEG;

/** The arm as it is known at a contact, or why it is not. */
function frameOf(state: PipelineState, contactUs: number): ArmFrame | 'not-zeroed' | 'unsettled' {
  const { arm, description } = state;
  if (arm.zero.phase !== 'zeroed' || arm.mounting === null) return 'not-zeroed';
  const worst = Math.sqrt(Math.max(arm.elbow.pDelta, arm.wrist.pDelta));
  const isAgreed = worst < LEAST_AGREED_RAD || !state.params.headingAgreement;
  if (contactUs < arm.settledUs || !isAgreed) return 'unsettled';
  const court = arm.courtHeadingRad;
  const fore = court + arm.elbow.deltaRad;
  return {
    mounting: arm.mounting,
    lengthsM: SEGMENTS.map((segment) => description.lengthsM[segment]),
    headingRad: [court, fore, fore + arm.wrist.deltaRad],
    uncertainty: {
      elbowRad: Math.sqrt(arm.elbow.noise.pDelta),
      wristRad: Math.sqrt(arm.wrist.noise.pDelta),
    },
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
    shake: state.arm.lags.shake,
    swings,
    funnel: summariseFunnel(swings.filter((s) => !s.discarded).map((s) => s.swing)),
  };
}
