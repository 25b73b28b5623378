import { GRID_STEP_US, slotOf } from '../core/arm/arm-timeline.ts';
import type { LeverRefinement } from '../core/arm/lever-refinement.ts';
import { SEGMENTS } from '../core/arm/segments.ts';
import { tickAt } from '../core/clocks/clock-map.ts';
import {
  conjugate,
  multiply,
  type Quaternion,
  quaternion,
  rotateInverse,
} from '../core/maths/quaternion.ts';
import { seededRandom } from '../core/maths/random.ts';
import { vector3 } from '../core/maths/vector.ts';
import {
  createReading,
  readTrack,
  SAMPLE_BEFORE_SHOCK,
  SAMPLE_IN_SHOCK,
} from '../core/orientation/sensor-track.ts';
import { createPipeline, type PipelineState, stepPipeline } from '../core/pipeline/pipeline.ts';
import { SENSOR_FROM_JOINT_M } from '../core/simulator/kit.ts';
import type { SessionOptions, SimulatedSession } from '../core/simulator/session-types.ts';
import { simulateSession } from '../core/simulator/simulate-session.ts';
import { planMovement } from '../core/simulator/virtual-player.ts';
import { createVirtualSensor } from '../core/simulator/virtual-sensor.ts';
import type { JointInstant, JointTrial } from './joint-trial.ts';

/** Headings are unknown at first; this long there are swings to learn from before errors count, seconds. */
const CONVERGES_S = 40;
/** The truth is looked up at every fourth instant: 50 a second. */
const TRUTH_EVERY = 4;

/**
 * Elbow and wrist of a simulated set as the pipeline reads them: its tracks, clocks, mounting and refined joints, but
 * no headings. Errors count within swings. The two sensors' true orientations are those at the ticks that were read.
 */
export function simulatedTrial(group: string, options: SessionOptions): JointTrial {
  const { truth, description } = sessionOf(options);
  const longAxis = trueMounting(options, truth).map((q) => rotateInverse(vector3(), q, ALONG));
  const lengthsM = SEGMENTS.map((segment) => description.lengthsM[segment]);
  return { group, arm: { longAxis, lengthsM }, instants: () => instantsOf(options) };
}

const ALONG = vector3(1, 0, 0);

function sessionOf(options: SessionOptions): SimulatedSession {
  return simulateSession(options, { setId: '', startedAtMs: 0, programVersion: '' });
}

function* instantsOf(options: SessionOptions): Generator<JointInstant, void, void> {
  const session = sessionOf(options);
  const qSegmentFromSensor = trueMounting(options, session.truth);
  const state = createPipeline(session.description);
  let next = 0;
  for (const step of session.steps) {
    if (step.kind !== 'record') continue;
    stepPipeline(state, step.record);
    const { timeline, mounting, levers } = state.arm;
    for (; next < timeline.count; next++) {
      if (mounting?.qSegmentFromSensor == null || levers === null) continue;
      yield* readJoints(state, session.truth, { instant: next, qSegmentFromSensor, levers });
    }
  }
}

/**
 * How the sensors truly sit, from the same seed as the session draws them.
 * @throws Error when the session no longer draws movement and sensors in this order
 */
function trueMounting(options: SessionOptions, truth: SimulatedSession['truth']): Quaternion[] {
  const random = seededRandom(options.seed);
  planMovement(options, random);
  return SEGMENTS.map((segment, k) => {
    const { errors, nominalRateHz } = options;
    const from = SENSOR_FROM_JOINT_M[segment];
    const sensor = createVirtualSensor(k, from, nominalRateHz, errors, random);
    if (truth.sensors[segment].hostUsFromTick(sensor.firstTick) !== 0) {
      throw new Error('simulateSession draws in another order now: adapt trueMounting.');
    }
    return sensor.qSegmentFromSensor;
  });
}

interface Known {
  /** Absolute number on the pipeline's timeline. */
  readonly instant: number;
  readonly qSegmentFromSensor: readonly Quaternion[];
  readonly levers: readonly LeverRefinement[];
}

/** The three sensors at one instant of the timeline, read anew from their tracks. */
function* readJoints(
  { arm, intakes }: PipelineState,
  truth: SimulatedSession['truth'],
  { instant, qSegmentFromSensor, levers }: Known,
): Generator<JointInstant, void, void> {
  const timeUs = arm.timeline.timeUs[slotOf(instant)]!;
  const sensors = intakes.map(({ track, clock }, k) => {
    const reading = createReading();
    const tick = tickAt(clock!, timeUs + arm.lags.appliedUs[k]!);
    const found = readTrack(track!, tick, clock!.tickHz, arm.cursors[k]!, reading);
    return { reading, tick, isMissing: found < 0 };
  });
  if (sensors.some((sensor) => sensor.isMissing)) return;
  const qCourtFromSensor = (k: number) => {
    const sensor = truth.sensors[SEGMENTS[k]!];
    const q = sensor.qCourtFromSegmentAt(sensor.hostUsFromTick(sensors[k]!.tick));
    return multiply(quaternion(), q, qSegmentFromSensor[k]!);
  };
  const counts =
    timeUs > CONVERGES_S * 1e6 &&
    truth.swings.some(
      ({ startTimeUs, contactTimeUs }) => timeUs >= startTimeUs && timeUs <= contactTimeUs,
    );
  const isShocked = sensors.some(
    ({ reading }) => (reading.flags & (SAMPLE_IN_SHOCK | SAMPLE_BEFORE_SHOCK)) !== 0,
  );
  for (const joint of [0, 1] as const) {
    const q = conjugate(quaternion(), qCourtFromSensor(joint));
    yield {
      joint,
      timeS: timeUs * 1e-6,
      stepS: GRID_STEP_US * 1e-6,
      above: sensors[joint]!.reading,
      below: sensors[joint + 1]!.reading,
      leverAboveM: levers[joint]!.aboveM,
      leverBelowM: levers[joint]!.belowM,
      isShocked,
      qTrue: instant % TRUTH_EVERY === 0 ? multiply(q, q, qCourtFromSensor(joint + 1)) : null,
      counts,
    };
  }
}
