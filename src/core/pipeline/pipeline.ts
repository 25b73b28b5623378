import { TILT_SEEN_LIVE } from '../arm/reach.ts';
import { type PerSegment, type Segment, segmentIndex } from '../arm/segments.ts';
import { hostTimeUs } from '../clocks/clock-map.ts';
import { type Funnel, summariseFunnel } from '../measures/funnel.ts';
import type { SetDescription } from '../recording/set-description.ts';
import type { SetEvent, SetRecord } from '../recording/set-record.ts';
import { readSwing, type SwingReading } from '../swings/read-swing.ts';
import {
  createStrokeDetector,
  detectStroke,
  type Stroke,
  type StrokeDetector,
} from '../swings/stroke-detector.ts';
import type { Swing, SwingCurves } from '../swings/swing.ts';
import { airCut, armMoved, type Contact, cutSwing, type SwingCut } from '../swings/swing-cut.ts';
import { frameOf, type KnownArm, noteArm } from './arm-frame.ts';
import type { ArmClocks } from './arm-sensors.ts';
import { advanceArm } from './arm-stage.ts';
import { type ArmState, createArmState } from './arm-state.ts';
import { type Blocks, beginBlock, blockAt, blocksLike, createBlocks } from './blocks.ts';
import { type FitVerdict, judgeFit, noteFall } from './fit-watch.ts';
import { followGyroTilts } from './gyro-tilts.ts';
import { closeWindows } from './headings.ts';
import { alignBySwing, forgetLags, requestShake } from './lag-alignment.ts';
import { createLiveFunnel, type LiveFunnel, updateLiveFunnel } from './live-funnel.ts';
import type { LiveView, PipelineOutput, ScoredSwing, SensorHealth, ZeroState } from './outputs.ts';
import { DEFAULT_PARAMS, type PipelineParams } from './params.ts';
import { poseLook } from './pose-look.ts';
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
  readonly strokes: StrokeDetector;
  /** Strokes of the implement that the timeline has not reached yet. */
  readonly pendingStrokes: Stroke[];
  readonly swings: SwingEntry[];
  readonly scores: ScoreBook;
  readonly blocks: Blocks;
  readonly funnel: LiveFunnel;
  hostTimeUs: number;
}

/** One swing: what it left on the timeline, what was known of the arm then, and how it was read with that. */
export interface SwingEntry {
  readonly cut: SwingCut;
  readonly known: KnownArm;
  readonly reading: SwingReading;
}

/** Fresh pipeline for one set. */
export function createPipeline(
  description: SetDescription,
  params: PipelineParams = DEFAULT_PARAMS,
): PipelineState {
  const intake = () => createIntake(description.calibrations);
  return {
    description,
    params,
    intakes: [intake(), intake(), intake()],
    arm: createArmState(description),
    strokes: createStrokeDetector(),
    pendingStrokes: [],
    swings: [],
    scores: createScoreBook(),
    blocks: createBlocks(description),
    funnel: createLiveFunnel(),
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
    case 'block-began': {
      const { zero } = state.arm;
      beginBlock(state.blocks, state.arm, event.condition, atUs);
      if (state.arm.zero !== zero) outputs.push({ kind: 'zero', zero: state.arm.zero });
      break;
    }
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
      noteEvent(state.scores, event, atUs);
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
    forgetStrokes(state, segment);
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
  advanceArm(state.arm, state.intakes, state.params, () => {
    const swing = finishSwing(state); // may find that the zero no longer holds
    if (state.arm.zero !== zero) {
      zero = state.arm.zero;
      outputs.push({ kind: 'zero', zero });
    }
    if (swing !== null) outputs.push({ kind: 'swing', swing });
  });
}

/** Strokes are looked for on the implement alone. */
function sampleListener(state: PipelineState, segment: Segment): SampleListener {
  if (segment !== 'implement') return () => {};
  return (intake, knocked, dtS) => {
    if (intake.track === null) return;
    const stroke = detectStroke(state.strokes, intake.track, knocked, dtS);
    if (stroke !== null) state.pendingStrokes.push(stroke);
    if (state.strokes.contacts.sinceFallS === 0) noteFall(state.arm);
  };
}

/** Strokes are told in ticks of the implement sensor; a new run of it has other ticks. */
function forgetStrokes(state: PipelineState, segment: Segment): void {
  if (segment !== 'implement') return;
  state.pendingStrokes.length = 0;
  Object.assign(state.strokes, createStrokeDetector());
}

/** Reads the next stroke once the timeline has reached it. */
function finishSwing(state: PipelineState): Swing | null {
  const stroke = state.pendingStrokes[0];
  const implement = state.intakes[2];
  if (stroke === undefined || implement.clock === null || implement.info === null) return null;
  const { timeline } = state.arm;
  const timeUs = hostTimeUs(implement.clock, stroke.tick);
  if (timeline.nextUs <= timeUs) return null;
  state.pendingStrokes.shift();
  if (!armMoved(timeline, timeUs)) return null;
  // Contact lies anywhere between two samples: a uniform error of one interval.
  const standardErrorUs = 1e6 / implement.info.rateHz / Math.sqrt(12);
  const contact: Contact = { timeUs, standardErrorUs };
  return stroke.isAir ? finishAirSwing(state, contact) : finishContact(state, contact);
}

/** An air swing is listed and left out of everything else. */
function finishAirSwing(state: PipelineState, instant: Contact): Swing {
  return pushSwing(state, airCut(instant), noteArm(state.arm, instant.timeUs));
}

function finishContact(state: PipelineState, contact: Contact): Swing {
  const { arm } = state;
  closeWindows(arm);
  const [u, f, m] = state.intakes;
  if (arm.levers !== null && u.clock && f.clock && m.clock && u.track && f.track && m.track) {
    const clocks: ArmClocks = [u.clock, f.clock, m.clock];
    alignBySwing(arm.lags, clocks, [u.track, f.track, m.track], arm.levers, contact.timeUs);
  }
  followGyroTilts(arm);
  const cut = cutSwing(arm.timeline, arm.gyroTilts, contact);
  const verdict = judgeFit(arm);
  if (verdict !== null) withdrawSwings(state, verdict);
  const misfit = verdict?.misfit ?? arm.misfit;
  return pushSwing(state, cut, { ...noteArm(arm, contact.timeUs), misfit });
}

function pushSwing(state: PipelineState, cut: SwingCut, known: KnownArm): Swing {
  const frame = frameOf(known, state.params, TILT_SEEN_LIVE);
  const reading = readSwing(cut, frame, state.swings.length);
  state.swings.push({ cut, known, reading });
  return reading.swing;
}

/** Earlier swings that were read with a sensor out of place lose their reach; what was measured stays. */
function withdrawSwings(state: PipelineState, { misfit, swings: doubtful }: FitVerdict): void {
  const { swings, params } = state;
  // the newest of them is not listed yet, and air swings say nothing about the fit
  let left = doubtful - 1;
  for (let i = swings.length - 1; i >= 0 && left > 0; i--) {
    const { cut, known } = swings[i]!;
    if (cut.fault === 'air-swing') continue;
    left--;
    const doubted: KnownArm = { ...known, misfit };
    swings[i] = {
      cut,
      known: doubted,
      reading: readSwing(cut, frameOf(doubted, params, TILT_SEEN_LIVE), i),
    };
  }
}

/** Swings with what the coach said of them. @param readings in the order of `state.swings` */
export function scoredSwings(
  { scores, blocks, swings }: PipelineState,
  readings: readonly SwingReading[],
): ScoredSwing[] {
  return readings.map(({ swing }, i) => {
    const foundContactUs = swings[i]!.cut.contact.timeUs;
    return scoredSwing(scores, { swing, foundContactUs, block: blockAt(blocks, foundContactUs) });
  });
}

/** The set so far, as the live screens see it. The funnel is that of the latest block's condition. */
export function viewPipeline(state: PipelineState): LiveView {
  const readings = state.swings.map(({ reading }) => reading);
  return view(state, readings, state.blocks.conditions.length - 1, (curves) =>
    updateLiveFunnel(state.funnel, curves),
  );
}

/**
 * A finished set with its swings read otherwise.
 * @param readings in the order of `state.swings` @param block whose condition the funnel is of, from 0
 */
export function viewReadings(
  state: PipelineState,
  readings: readonly SwingReading[],
  block: number,
): LiveView {
  const seen = view(state, readings, block, (curves) =>
    summariseFunnel(curves.filter((curve) => curve !== null)),
  );
  return { ...seen, isReview: true };
}

function view(
  state: PipelineState,
  readings: readonly SwingReading[],
  block: number,
  funnelOf: (curves: readonly (SwingCurves | null)[]) => Funnel,
): LiveView {
  const swings = scoredSwings(state, readings);
  const shown = blocksLike(state.blocks.conditions, block);
  const isShown = (i: number): boolean => !swings[i]!.discarded && shown.has(swings[i]!.block);
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
    pose: poseLook(state.arm),
    shake: state.arm.lags.shake,
    blocks: state.blocks.conditions,
    swings,
    notes: [...state.scores.notes].map(([atUs, text]) => ({ atUs, text })),
    isReview: false,
    funnel: funnelOf(readings.map(({ curves }, i) => (isShown(i) ? curves : null))),
  };
}
