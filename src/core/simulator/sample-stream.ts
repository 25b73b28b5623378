import { SEGMENTS, type Segment } from '../arm/segments.ts';
import { RAD_PER_DEG, STANDARD_GRAVITY } from '../maths/angles.ts';
import { type Random, seededRandom } from '../maths/random.ts';
import { type Vector3, vector3 } from '../maths/vector.ts';
import { encodeStreamPacket, type StreamPacket } from '../packets/stream-packet.ts';
import type { SetRecord } from '../recording/set-record.ts';
import { lengthsOf } from './kit.ts';
import { addKnock, direction, type IdealSignals, type Knock, type KnockFeel } from './knock.ts';
import { streamRandom } from './random-streams.ts';
import type { SensorErrors } from './sensor-errors.ts';
import type { SessionOptions } from './session-types.ts';
import type { PlannedMovement } from './virtual-player.ts';
import { idealSignals, type VirtualSensor } from './virtual-sensor.ts';

/** Packets per second the simulated firmware aims at. */
const PACKETS_PER_S = 20;

type Notification = Extract<SetRecord, { kind: 'notification' }>;

/** One packet as the sensor makes it, and the true time of its last sample, microseconds. */
export interface MadePacket {
  readonly madeUs: number;
  readonly packet: StreamPacket;
}

/**
 * Packets of one simulated sensor as it makes them: ideal signals, then the errors of the part, then int16
 * with clipping. Movement and knocks may grow meanwhile, but only later than the packet that is made.
 * @param random drawn from for noise and the first sequence number
 */
export function makePackets(
  sensor: VirtualSensor,
  movement: PlannedMovement,
  knocks: readonly Knock[],
  options: SessionOptions,
  random: Random,
): Generator<MadePacket, void, void> {
  // At once, not with the first packet: what is planned later must not change what is drawn here.
  const digitise = createDigitiser(sensor, movement, knocks, options, random);
  const perPacket = Math.min(19, Math.round(options.nominalRateHz / PACKETS_PER_S));
  return packSamples(sensor, movement, perPacket, Math.floor(random.uniform(0, 65536)), digitise);
}

function* packSamples(
  sensor: VirtualSensor,
  movement: PlannedMovement,
  perPacket: number,
  firstSequence: number,
  digitise: Digitiser,
): Generator<MadePacket, void, void> {
  let sequence = firstSequence;
  for (let first = 0; ; first += perPacket) {
    const lastS = (first + perPacket - 1) / sensor.rateHz;
    if (lastS > movement.endS) return;
    const samples = new Int16Array(6 * perPacket);
    let clipped = false;
    for (let i = 0; i < perPacket; i++) {
      clipped =
        digitise((first + i) / sensor.rateHz, samples.subarray(6 * i, 6 * i + 6)) || clipped;
    }
    const tick = (index: number) =>
      sensor.firstTick + Math.round((index / sensor.rateHz) * sensor.tickHz);
    const packet: StreamPacket = {
      clipped,
      dropped: false,
      resent: false,
      sequence,
      firstTick: tick(first) % 2 ** 32,
      spanTicks: tick(first + perPacket - 1) - tick(first),
      samples,
      magnetometer: null,
    };
    sequence = (sequence + 1) % 65536;
    yield { madeUs: lastS * 1e6, packet };
  }
}

/** A radio delay of the simulated link, microseconds. */
export function radioDelayUs(errors: SensorErrors, random: Random): number {
  const excessMs = -errors.delayMeanExcessMs * Math.log(1 - random.uniform(0, 1));
  return 1000 * Math.min(errors.delayMaxMs, errors.delayMinMs + excessMs);
}

/** As {@link makePackets}, as notifications in order of arrival, with radio delay, loss and dropout. */
export function streamSamples(
  sensor: VirtualSensor,
  movement: PlannedMovement,
  knocks: readonly Knock[],
  options: SessionOptions,
  seed: number,
): Generator<Notification, void, void> {
  const random = seededRandom(seed);
  return sendPackets(
    makePackets(sensor, movement, knocks, options, random),
    sensor,
    options,
    random,
  );
}

function* sendPackets(
  packets: Iterable<MadePacket>,
  sensor: VirtualSensor,
  options: SessionOptions,
  random: Random,
): Generator<Notification, void, void> {
  const { errors } = options;
  const segment = nameOf(sensor, errors);
  let arrivedUs = 0;
  for (const { madeUs, packet } of packets) {
    const delayUs = radioDelayUs(errors, random);
    arrivedUs = Math.max(arrivedUs, madeUs + delayUs);
    const lost =
      random.uniform(0, 1) < errors.lossFraction || isSilent(options, sensor.segment, madeUs / 1e6);
    const bytes = encodeStreamPacket(packet);
    if (!lost) yield { kind: 'notification', segment, hostTimeUs: arrivedUs, bytes };
  }
}

/** The name under which a sensor sends: that of its segment, unless two are swapped. */
export function nameOf(sensor: VirtualSensor, { swapped }: SensorErrors): Segment {
  const segment = SEGMENTS[sensor.segment]!;
  if (swapped === null || !swapped.includes(segment)) return segment;
  return swapped[0] === segment ? swapped[1] : swapped[0];
}

function isSilent(options: SessionOptions, segment: number, timeS: number): boolean {
  const { dropout } = options.errors;
  return (
    dropout !== null &&
    segment === 1 &&
    timeS >= dropout.atS &&
    timeS < dropout.atS + dropout.lastsS
  );
}

/** Turns a time into six int16 numbers; answers whether one of them clipped. */
type Digitiser = (timeS: number, out: Int16Array) => boolean;

function createDigitiser(
  sensor: VirtualSensor,
  movement: PlannedMovement,
  knocks: readonly Knock[],
  options: SessionOptions,
  random: Random,
): Digitiser {
  const { errors } = options;
  const lengths = lengthsOf(options);
  const gyroNoise = errors.gyroNoiseDegS * RAD_PER_DEG * Math.sqrt(sensor.rateHz / 2);
  const accelNoise =
    errors.accelNoiseMicroG * 1e-6 * STANDARD_GRAVITY * Math.sqrt(sensor.rateHz / 2);
  const walk = (errors.gyroBiasWalkDegS * RAD_PER_DEG) / Math.sqrt(sensor.rateHz);
  const bias = Float64Array.from(sensor.gyroBiasRadS);
  const ideal: IdealSignals = { gyr: vector3(), acc: vector3() };
  const feelOf = createFeels(knocks, sensor, options, random);
  let nextKnock = 0;
  const swingAt = createSwingClock(movement);
  return (timeS, out) => {
    const wobble = errors.wobbleDeg * RAD_PER_DEG * swingAt(timeS);
    idealSignals(sensor, movement, lengths, timeS, wobble, ideal);
    while (nextKnock < knocks.length && knocks[nextKnock]!.atS < timeS - 0.2) nextKnock++;
    for (let k = nextKnock; k < knocks.length && knocks[k]!.atS <= timeS; k++) {
      addKnock(ideal, knocks[k]!, sensor.segment, timeS, feelOf(knocks[k]!));
    }
    let clipped = false;
    for (let i = 0; i < 3; i++) {
      bias[i] = bias[i]! + random.normal(walk);
      const gyr = row(sensor.gyroMatrix, i, ideal.gyr) + bias[i]! + random.normal(gyroNoise);
      const acc =
        row(sensor.accelMatrix, i, ideal.acc) + sensor.accelBiasMS2[i]! + random.normal(accelNoise);
      clipped = quantise(out, i, gyr / sensor.info.gyroScaleRadS) || clipped;
      clipped = quantise(out, 3 + i, acc / sensor.info.accelScaleMS2) || clipped;
    }
    return clipped;
  };
}

/** How the sensor feels each knock: those planned by now from `random`, later ones from a stream of their own. */
function createFeels(
  knocks: readonly Knock[],
  sensor: VirtualSensor,
  { seed, errors }: SessionOptions,
  random: Random,
): (knock: Knock) => KnockFeel {
  const drawFeel = (from: Random): KnockFeel => {
    const turn = from.normal(errors.shockRotationDeg * RAD_PER_DEG);
    return {
      axes: [direction(from), direction(from)],
      spuriousTurnRad: direction(from).map((x) => x * turn),
    };
  };
  const feels = new Map(knocks.map((knock) => [knock, drawFeel(random)]));
  const later = streamRandom(seed, 'laterKnocks', sensor.segment);
  return (knock) => {
    const feel = feels.get(knock) ?? drawFeel(later);
    feels.set(knock, feel);
    return feel;
  };
}

/** 1 around contact, 0 away from swings: soft tissue wobbles while the arm is fast. */
function createSwingClock(movement: PlannedMovement): (timeS: number) => number {
  let index = 0;
  return (timeS) => {
    while (index < movement.swings.length && movement.swings[index]!.contactS < timeS - 1) index++;
    const swing = movement.swings[index];
    if (swing === undefined) return 0;
    const away = (timeS - swing.contactS) / 0.2;
    return Math.exp(-away * away);
  };
}

function row(matrix: Float64Array, i: number, v: Vector3): number {
  return matrix[3 * i]! * v[0]! + matrix[3 * i + 1]! * v[1]! + matrix[3 * i + 2]! * v[2]!;
}

function quantise(out: Int16Array, i: number, value: number): boolean {
  const rounded = Math.round(value);
  out[i] = Math.min(32767, Math.max(-32768, rounded));
  return rounded > 32767 || rounded < -32768;
}
