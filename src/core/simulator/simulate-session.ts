import { type PerSegment, SEGMENTS, type Segment } from '../arm/segments.ts';
import { quaternion } from '../maths/quaternion.ts';
import { seededRandom } from '../maths/random.ts';
import { encodeSensorInfo } from '../packets/sensor-info.ts';
import type { SetDescription } from '../recording/set-description.ts';
import type { SetEvent, SetRecord } from '../recording/set-record.ts';
import { ARM_CHANNELS, segmentOrientation } from './arm-kinematics.ts';
import { fallAt, fallOrientation } from './fall.ts';
import { checkHandling } from './handling.ts';
import { conditionOf, PLAYER_ARM_M, SCORE_STEPS, SENSOR_FROM_JOINT_M } from './kit.ts';
import { ListeningPlayer } from './listening-player.ts';
import { planKnocks } from './plan-knocks.ts';
import { streamRandom, streamSeed } from './random-streams.ts';
import { makePackets, nameOf, radioDelayUs, streamSamples } from './sample-stream.ts';
import type {
  InterludeTruth,
  LandedBall,
  SensorTruth,
  SessionOptions,
  SimulatedSession,
  SimulatedStep,
  SwingTruth,
} from './session-types.ts';
import { coachBlocks } from './simulated-coach.ts';
import type { FirmwareHardware } from './virtual-firmware.ts';
import {
  movementAt,
  type PlannedMovement,
  planMovement,
  ZERO_REQUEST_S,
} from './virtual-player.ts';
import { createVirtualSensor, type VirtualSensor } from './virtual-sensor.ts';

type Head = Pick<SetDescription, 'setId' | 'startedAtMs' | 'programVersion'>;

/** Everything about a session that is decided before the first sample. */
interface PlannedSession {
  readonly options: SessionOptions;
  readonly player: ListeningPlayer;
  readonly sensors: readonly VirtualSensor[];
}

function planSession(options: SessionOptions): PlannedSession {
  for (const { swings } of [options, ...(options.laterBlocks ?? [])]) {
    if (!(swings >= 0)) throw new RangeError(`swings must be 0 or more, got ${swings}`);
  }
  checkHandling(options);
  const { errors, nominalRateHz } = options;
  const random = seededRandom(options.seed);
  const movement = planMovement(options, random);
  const sensors = SEGMENTS.map((segment, k) =>
    createVirtualSensor(k, SENSOR_FROM_JOINT_M[segment], nominalRateHz, errors, random),
  );
  const player = new ListeningPlayer(options, movement, planKnocks(movement, random));
  return { options, player, sensors };
}

function describeSession({ options }: PlannedSession, head: Head): SetDescription {
  const { implement, ball, implementLengthM, sweetSpotBand } = conditionOf(options);
  return {
    ...head,
    source: 'simulated',
    player: 'Player A (invented)',
    handedness: options.handedness,
    lengthsM: { ...PLAYER_ARM_M, implement: implementLengthM },
    sensorFromJointM: SENSOR_FROM_JOINT_M,
    implement,
    ball,
    sweetSpotBand,
    scoreSteps: SCORE_STEPS,
  };
}

/**
 * A whole set of the virtual player as the bytes three sensors would send, in order of arrival, with the
 * truth beside them for tests. Later blocks are begun by a coach, whose events are among the records.
 * @param head what the caller knows of the set; names, lengths and kit are filled in here
 * @throws RangeError for a negative number of swings, or errors of a negative size
 * Checked: tests/simulator/simulate-session.test.ts, tests/simulator/blocks.test.ts
 */
export function simulateSession(options: SessionOptions, head: Head): SimulatedSession {
  const plan = planSession(options);
  const { player, sensors } = plan;
  const { movement, knocks } = player;
  // Before the coach speaks, as in a set that is played live: so later blocks leave the first one's bytes alone.
  const streams = sensors.map((sensor, k) =>
    streamSamples(sensor, movement, knocks, options, streamSeed(options.seed, 'sensors', k)),
  );
  const coached = coachBlocks(player, options.laterBlocks ?? []);
  return {
    description: describeSession(plan, head),
    steps: mergeSteps(plan, streams, coached),
    truth: {
      swings: player.swings,
      interludes: interludeTruths(movement),
      sensors: Object.fromEntries(
        SEGMENTS.map((segment, k) => [segment, sensorTruth(sensors[k]!, movement)]),
      ) as PerSegment<SensorTruth>,
    },
  };
}

/** Packets a simulated sensor can send again: 12 s at 20 packets a second. */
const RING_PACKETS = 240;

/** The same player with sensors that can be talked to, and a coach who is somebody else. */
export interface SimulatedSensors {
  readonly description: SetDescription;
  /** What the firmware of upper arm, forearm and implement runs on. */
  readonly hardware: readonly [FirmwareHardware, FirmwareHardware, FirmwareHardware];
  /** Balls in order. Grows and changes with what the player hears; what has landed stays. */
  readonly landings: readonly LandedBall[];
  /** When the player is ready for the two poses, microseconds. */
  readonly zeroRequestUs: number;
  /** Likewise. */
  readonly swings: readonly SwingTruth[];
  readonly interludes: readonly InterludeTruth[];
  /** When the sensors fall silent, microseconds; Infinity while blocks are left, or balls wait for the poses. */
  readonly endUs: number;
  /** Tells the player what the coach did. @param atUs true time: now, microseconds */
  readonly hear: (event: SetEvent, atUs: number) => void;
}

/**
 * As {@link simulateSession}, but the sensors wait to be started and can send again what was lost, and later blocks
 * wait for the coach.
 * @throws RangeError for a negative number of swings, or errors of a negative size
 * Checked: tests/simulator/listening-player.test.ts, tests/devices/simulated-blocks.test.ts
 */
export function simulateSensors(options: SessionOptions, head: Head): SimulatedSensors {
  const plan = planSession(options);
  const { player, sensors } = plan;
  const { movement, knocks, landings, swings } = player;
  const hardwareOf = (segment: Segment): FirmwareHardware => {
    const k = sensors.findIndex((sensor) => nameOf(sensor, options.errors) === segment);
    const sensor = sensors[k]!;
    const random = streamRandom(options.seed, 'sensors', k);
    return {
      info: { ...sensor.info, resendPackets: RING_PACKETS },
      packets: makePackets(sensor, movement, knocks, options, random),
      tickAt: (trueUs) => tickAt(sensor, trueUs),
    };
  };
  return {
    description: describeSession(plan, head),
    hardware: [hardwareOf('upperArm'), hardwareOf('forearm'), hardwareOf('implement')],
    landings,
    zeroRequestUs: ZERO_REQUEST_S * 1e6,
    swings,
    get interludes() {
      return interludeTruths(movement);
    },
    get endUs() {
      return movement.endS * 1e6;
    },
    hear: (event, atUs) => player.hear(event, atUs),
  };
}

function interludeTruths({ interludes }: PlannedMovement): InterludeTruth[] {
  return interludes.map(({ name, fromS, toS }) => ({ name, fromUs: fromS * 1e6, toUs: toS * 1e6 }));
}

/** A sensor's tick at a true time, not yet wrapped. */
function tickAt(sensor: VirtualSensor, trueUs: number): number {
  return sensor.firstTick + trueUs * 1e-6 * sensor.tickHz;
}

function* mergeSteps(
  plan: PlannedSession,
  streams: readonly Generator<SetRecord, void, void>[],
  coached: readonly SetRecord[],
): Generator<SimulatedStep, void, void> {
  const { options, player, sensors } = plan;
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
  const landings = player.landings.map((landed): SimulatedStep => ({ kind: 'landing', ...landed }));
  const zero: SetRecord = {
    kind: 'event',
    hostTimeUs: ZERO_REQUEST_S * 1e6,
    event: { type: 'zero-requested' },
  };
  const pings = sensors.map((sensor) => pingSteps(sensor, plan));
  const events = recordSteps([zero, ...coached]);
  yield* mergeInTime([events, landings.values(), ...pings, ...streams.map(recordSteps)]);
}

/** When a link asks a sensor for its tick, seconds: often in the first eight seconds, then every second. */
function pingTimesS(endS: number): number[] {
  const quick = Array.from({ length: 80 }, (_, i) => 0.1 + 0.1 * i);
  return [...quick, ...Array.from({ length: Math.ceil(endS) }, (_, i) => 9 + i)];
}

/** Clock pings as a link would record them, each way with a radio delay of its own. */
function* pingSteps(
  sensor: VirtualSensor,
  { options, player }: PlannedSession,
): Generator<SimulatedStep, void, void> {
  const random = streamRandom(options.seed, 'pings', sensor.segment);
  for (const atS of pingTimesS(player.movement.endS)) {
    const sentTimeUs = atS * 1e6;
    const heardUs = sentTimeUs + radioDelayUs(options.errors, random);
    const hostTimeUs = heardUs + radioDelayUs(options.errors, random);
    const tick = Math.floor(tickAt(sensor, heardUs)) % 2 ** 32;
    const segment = nameOf(sensor, options.errors);
    const event = { type: 'clock-ping', segment, sentTimeUs, tick } as const;
    yield { kind: 'record', record: { kind: 'event', hostTimeUs, event } };
  }
}

function* recordSteps(records: Iterable<SetRecord>): Generator<SimulatedStep, void, void> {
  for (const record of records) yield { kind: 'record', record };
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
