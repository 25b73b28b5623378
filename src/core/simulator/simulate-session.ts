import { type PerSegment, SEGMENTS, type Segment } from '../arm/segments.ts';
import { conjugate, multiply, quaternion, rotate, toRotationVector } from '../maths/quaternion.ts';
import { type Random, seededRandom } from '../maths/random.ts';
import { addScaled, dot, normalise, vector3 } from '../maths/vector.ts';
import { encodeSensorInfo } from '../packets/sensor-info.ts';
import type { SetDescription } from '../recording/set-description.ts';
import { ARM_CHANNELS, reachOf, segmentOrientation } from './arm-kinematics.ts';
import { landBall } from './ball-flight.ts';
import { fallAt, fallOrientation } from './fall.ts';
import {
  BALLS,
  IMPLEMENTS,
  lengthsOf,
  PLAYER_ARM_M,
  SCORE_STEPS,
  SENSOR_FROM_JOINT_M,
} from './kit.ts';
import type { Knock } from './knock.ts';
import { makePackets, nameOf, radioDelayUs, streamSamples } from './sample-stream.ts';
import type {
  BallLanding,
  InterludeTruth,
  SensorTruth,
  SessionOptions,
  SimulatedSession,
  SimulatedStep,
  SwingTruth,
} from './session-types.ts';
import type { FirmwareHardware } from './virtual-firmware.ts';
import {
  movementAt,
  type PlannedMovement,
  planMovement,
  ZERO_REQUEST_S,
} from './virtual-player.ts';
import { createVirtualSensor, type VirtualSensor } from './virtual-sensor.ts';

const LANDING_AFTER_S = 0.9;

type Head = Pick<SetDescription, 'setId' | 'startedAtMs' | 'programVersion'>;

/** Everything about a session that is decided before the first sample. */
interface PlannedSession {
  readonly options: SessionOptions;
  readonly movement: PlannedMovement;
  readonly sensors: readonly VirtualSensor[];
  readonly knocks: readonly Knock[];
  readonly swings: readonly SwingTruth[];
  /** The reach of the ideal contact, metres. */
  readonly bestM: number;
}

function planSession(options: SessionOptions): PlannedSession {
  if (!(options.swings >= 0)) {
    throw new RangeError(`swings must be 0 or more, got ${options.swings}`);
  }
  const { errors, nominalRateHz } = options;
  const random = seededRandom(options.seed);
  const movement = planMovement(options, random);
  const sensors = SEGMENTS.map((segment, k) =>
    createVirtualSensor(k, SENSOR_FROM_JOINT_M[segment], nominalRateHz, errors, random),
  );
  const knocks = planKnocks(movement, random);
  const swings = movement.swings.map((swing) => swingTruth(options, movement, swing.contactS));
  const bestM = reachOf(movement.idealContact, lengthsOf(options));
  return { options, movement, sensors, knocks, swings, bestM };
}

function describeSession({ options, bestM }: PlannedSession, head: Head): SetDescription {
  return {
    ...head,
    source: 'simulated',
    player: 'Player A (invented)',
    handedness: options.handedness,
    lengthsM: { ...PLAYER_ARM_M, implement: IMPLEMENTS[options.implement].wristToSweetSpotM },
    sensorFromJointM: SENSOR_FROM_JOINT_M,
    implement: IMPLEMENTS[options.implement].words,
    ball: BALLS[options.ball].words,
    sweetSpotBand: { reachM: bestM, halfWidthM: 0.015 },
    scoreSteps: SCORE_STEPS,
  };
}

/**
 * A whole set of the virtual player as the bytes three sensors would send, in order of arrival, with the
 * truth beside them for tests.
 * @param head what the caller knows of the set; names, lengths and kit are filled in here
 * @throws RangeError for a negative number of swings
 */
export function simulateSession(options: SessionOptions, head: Head): SimulatedSession {
  const plan = planSession(options);
  return {
    description: describeSession(plan, head),
    steps: mergeSteps(plan),
    truth: {
      swings: plan.swings,
      interludes: interludeTruths(plan.movement),
      sensors: Object.fromEntries(
        SEGMENTS.map((segment, k) => [segment, sensorTruth(plan.sensors[k]!, plan.movement)]),
      ) as PerSegment<SensorTruth>,
    },
  };
}

/** Packets a simulated sensor can send again: 12 s at 20 packets a second. */
const RING_PACKETS = 240;

/** The same player with sensors that can be talked to. */
export interface SimulatedSensors {
  readonly description: SetDescription;
  /** What the firmware of upper arm, forearm and implement runs on. */
  readonly hardware: readonly [FirmwareHardware, FirmwareHardware, FirmwareHardware];
  /** Balls in order, with the host time at which each has landed. */
  readonly landings: readonly { readonly hostTimeUs: number; readonly landing: BallLanding }[];
  /** When the player is ready for the two poses, microseconds. */
  readonly zeroRequestUs: number;
  readonly swings: readonly SwingTruth[];
  readonly interludes: readonly InterludeTruth[];
}

/** As {@link simulateSession}, but the sensors wait to be started and can send again what was lost. */
export function simulateSensors(options: SessionOptions, head: Head): SimulatedSensors {
  const plan = planSession(options);
  const hardwareOf = (segment: Segment): FirmwareHardware => {
    const k = plan.sensors.findIndex((sensor) => nameOf(sensor, options.errors) === segment);
    const sensor = plan.sensors[k]!;
    const random = seededRandom(options.seed * 16 + k + 1);
    return {
      info: { ...sensor.info, resendPackets: RING_PACKETS },
      packets: makePackets(sensor, plan.movement, plan.knocks, options, random),
      tickAt: (trueUs) => tickAt(sensor, trueUs),
    };
  };
  return {
    description: describeSession(plan, head),
    hardware: [hardwareOf('upperArm'), hardwareOf('forearm'), hardwareOf('implement')],
    landings: landingsOf(plan),
    zeroRequestUs: ZERO_REQUEST_S * 1e6,
    swings: plan.swings,
    interludes: interludeTruths(plan.movement),
  };
}

function interludeTruths({ interludes }: PlannedMovement): InterludeTruth[] {
  return interludes.map(({ name, fromS, toS }) => ({ name, fromUs: fromS * 1e6, toUs: toS * 1e6 }));
}

/** A sensor's tick at a true time, not yet wrapped. */
function tickAt(sensor: VirtualSensor, trueUs: number): number {
  return sensor.firstTick + trueUs * 1e-6 * sensor.tickHz;
}

function landingsOf({ movement, swings, bestM }: PlannedSession): SimulatedSensors['landings'] {
  return movement.swings.map((swing, i) => {
    const { contactTimeUs, reachM } = swings[i]!;
    return {
      hostTimeUs: contactTimeUs + LANDING_AFTER_S * 1e6,
      landing: landBall(contactTimeUs, reachM - bestM, swing.timingErrorS),
    };
  });
}

/** Contacts, now and then the ball bounced on the strings while the player waits, and all that interludes bring. */
function planKnocks(movement: PlannedMovement, random: Random): Knock[] {
  const knocks: Knock[] = [];
  for (const { contactS } of movement.swings) {
    if (random.uniform(0, 1) < 0.3) {
      for (let bounce = 0; bounce < 2; bounce++) {
        knocks.push({
          atS: contactS - 1.8 + 0.5 * bounce,
          strength: random.uniform(0.15, 0.5),
          isLoose: false,
        });
      }
    }
    knocks.push({ atS: contactS, strength: random.uniform(0.6, 1.2), isLoose: false });
  }
  knocks.push(...movement.interludes.flatMap((interlude) => interlude.knocks));
  return knocks.sort((a, b) => a.atS - b.atS);
}

function* mergeSteps(plan: PlannedSession): Generator<SimulatedStep, void, void> {
  const { options, movement, sensors, knocks } = plan;
  for (const sensor of sensors) {
    const bytes = encodeSensorInfo(sensor.info);
    yield {
      kind: 'record',
      record: {
        kind: 'sensor-info',
        segment: nameOf(sensor, options.errors),
        hostTimeUs: 0,
        bytes,
      },
    };
  }
  const streams = sensors.map((sensor, k) =>
    notificationSteps(streamSamples(sensor, movement, knocks, options, options.seed * 16 + k + 1)),
  );
  const landings = landingsOf(plan).map(
    (landed): SimulatedStep => ({ kind: 'landing', ...landed }),
  );
  const zero: SimulatedStep = {
    kind: 'record',
    record: { kind: 'event', hostTimeUs: ZERO_REQUEST_S * 1e6, event: { type: 'zero-requested' } },
  };
  const pings = sensors.map((sensor) => pingSteps(sensor, plan));
  yield* mergeInTime([[zero].values(), landings.values(), ...pings, ...streams]);
}

/** When a link asks a sensor for its tick, seconds: often in the first eight seconds, then every second. */
function pingTimesS(endS: number): number[] {
  const quick = Array.from({ length: 80 }, (_, i) => 0.1 + 0.1 * i);
  return [...quick, ...Array.from({ length: Math.ceil(endS) }, (_, i) => 9 + i)];
}

/** Clock pings as a link would record them, each way with a radio delay of its own. */
function* pingSteps(
  sensor: VirtualSensor,
  { options, movement }: PlannedSession,
): Generator<SimulatedStep, void, void> {
  const random = seededRandom(options.seed * 16 + sensor.segment + 8);
  for (const atS of pingTimesS(movement.endS)) {
    const sentTimeUs = atS * 1e6;
    const heardUs = sentTimeUs + radioDelayUs(options.errors, random);
    const hostTimeUs = heardUs + radioDelayUs(options.errors, random);
    const tick = Math.floor(tickAt(sensor, heardUs)) % 2 ** 32;
    const segment = nameOf(sensor, options.errors);
    const event = { type: 'clock-ping', segment, sentTimeUs, tick } as const;
    yield { kind: 'record', record: { kind: 'event', hostTimeUs, event } };
  }
}

function* notificationSteps(
  stream: ReturnType<typeof streamSamples>,
): Generator<SimulatedStep, void, void> {
  for (const record of stream) yield { kind: 'record', record };
}

function timeOf(step: SimulatedStep): number {
  return step.kind === 'record' ? step.record.hostTimeUs : step.hostTimeUs;
}

/** Merges sources that are each in order of host time. */
function* mergeInTime(
  sources: readonly Iterator<SimulatedStep, void>[],
): Generator<SimulatedStep, void, void> {
  const heads = sources.map((source) => source.next());
  for (;;) {
    let earliest = -1;
    for (let i = 0; i < heads.length; i++) {
      const head = heads[i]!;
      if (head.done === true) continue;
      const best = heads[earliest];
      if (best === undefined || timeOf(head.value) < timeOf(best.value as SimulatedStep))
        earliest = i;
    }
    const head = heads[earliest];
    if (head === undefined || head.done === true) return;
    yield head.value;
    heads[earliest] = sources[earliest]!.next();
  }
}

function sensorTruth(sensor: VirtualSensor, movement: PlannedMovement): SensorTruth {
  return {
    hostUsFromTick: (tick) => ((tick - sensor.firstTick) / sensor.tickHz) * 1e6,
    qCourtFromSegmentAt: (hostTimeUs) => {
      const fall = sensor.segment === 2 ? fallAt(movement.interludes, hostTimeUs / 1e6) : null;
      if (fall !== null) return fallOrientation(quaternion(), fall, hostTimeUs / 1e6);
      const channels = movementAt(movement, hostTimeUs / 1e6, new Float64Array(ARM_CHANNELS));
      return segmentOrientation(quaternion(), channels, sensor.segment);
    },
  };
}

/** Longest search for the start of a swing, and step of that search, seconds. */
const START_SEARCH_S = 1.2;
const START_STEP_S = 0.0005;

/** Start, reach and reach curve of one swing by the definitions of design.md section 8. */
function swingTruth(
  options: SessionOptions,
  movement: PlannedMovement,
  contactS: number,
): SwingTruth {
  const lengths = lengthsOf(options);
  const startS = trueStart(movement, contactS);
  const channels = new Float64Array(ARM_CHANNELS);
  const reachCurveM = Float64Array.from({ length: 101 }, (_, percent) => {
    const timeS = startS + ((contactS - startS) * percent) / 100;
    return reachOf(movementAt(movement, timeS, channels), lengths);
  });
  return {
    contactTimeUs: contactS * 1e6,
    startTimeUs: startS * 1e6,
    reachM: reachCurveM[100]!,
    reachCurveM,
  };
}

/** Last instant before contact at which the implement turned against its direction of the final 50 ms. */
function trueStart(movement: PlannedMovement, contactS: number): number {
  const axis = vector3();
  for (let back = 0; back < 0.05; back += START_STEP_S) {
    addScaled(axis, axis, 1, implementRate(movement, contactS - back));
  }
  normalise(axis, axis);
  for (let back = 0.05; back < START_SEARCH_S; back += START_STEP_S) {
    if (dot(implementRate(movement, contactS - back), axis) <= 0) return contactS - back;
  }
  return contactS - START_SEARCH_S;
}

const qa = quaternion();
const qb = quaternion();

/** Angular velocity of the implement in the court frame, rad/s. */
function implementRate(movement: PlannedMovement, timeS: number): Float64Array {
  const h = 1e-5;
  const channels = new Float64Array(ARM_CHANNELS);
  segmentOrientation(qa, movementAt(movement, timeS - h, channels), 2);
  segmentOrientation(qb, movementAt(movement, timeS + h, channels), 2);
  const turn = toRotationVector(vector3(), multiply(quaternion(), conjugate(quaternion(), qa), qb));
  rotate(turn, qb, turn);
  return turn.map((x) => x / (2 * h));
}
