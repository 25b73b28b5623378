import {
  type ClockMap,
  createClockMap,
  delaySpreadMs,
  observeArrival,
} from '../clocks/clock-map.ts';
import { unwrapTick } from '../clocks/tick-unwrap.ts';
import { type Vector3, vector3 } from '../maths/vector.ts';
import type { FilterMethod } from '../orientation/filter.ts';
import { addSample, createTrack, type SensorTrack } from '../orientation/sensor-track.ts';
import { decodeSensorInfo, type SensorInfo } from '../packets/sensor-info.ts';
import { decodeStreamPacket, type StreamPacket } from '../packets/stream-packet.ts';
import type { SensorHealth } from './outputs.ts';

/** One sensor from bytes to oriented samples. Plain data with the default filter. */
export interface SensorIntake {
  info: SensorInfo | null;
  track: SensorTrack | null;
  clock: ClockMap | null;
  /** Sequence expected next, and unwrapped tick of the last sample; -1 before the first packet. */
  nextSequence: number;
  lastTick: number;
  /** The information came again: the next packet shows whether the sensor was switched off in between. */
  linkRemade: boolean;
  /** How often the sensor began anew or was exchanged. */
  restarts: number;
  packets: number;
  lostPackets: number;
  refusedPackets: number;
  lastFault: string | null;
  clippedSamples: number;
  lastArrivalUs: number;
  /** Measured output rate, Hz: slow average over packets. */
  rateHz: number;
}

const INT16_MAX = 32767;
const INT16_MIN = -32768;
/** Samples further apart than this many intervals have others missing between them. */
const GAP_INTERVALS = 1.5;

/** Nothing received yet. */
export function createIntake(): SensorIntake {
  return {
    info: null,
    track: null,
    clock: null,
    nextSequence: -1,
    lastTick: -1,
    linkRemade: false,
    restarts: 0,
    packets: 0,
    lostPackets: 0,
    refusedPackets: 0,
    lastFault: null,
    clippedSamples: 0,
    lastArrivalUs: -1,
    rateHz: Number.NaN,
  };
}

/**
 * Takes in the information record. The first, and every one that names another sensor or another rate,
 * starts the intake over; the same again comes with a remade link, and whether the sensor was switched off
 * in between shows in its next packet.
 * @returns what was wrong, in words, or null
 */
export function takeInfo(
  intake: SensorIntake,
  bytes: Uint8Array,
  filter: FilterMethod,
): string | null {
  const decoded = decodeSensorInfo(bytes);
  if (!decoded.ok) return refuse(intake, decoded.fault.message);
  const { info } = decoded;
  const known = intake.info;
  if (known !== null && known.serial === info.serial && known.rateHz === info.rateHz) {
    intake.linkRemade = true;
  } else {
    startOver(intake, info, filter);
  }
  return null;
}

function startOver(intake: SensorIntake, info: SensorInfo, filter: FilterMethod): void {
  if (intake.packets > 0) intake.restarts++;
  intake.info = info;
  intake.track = createTrack(filter, 1 / info.rateHz);
  intake.clock = createClockMap(info.tickHz);
  intake.nextSequence = -1;
  intake.lastTick = -1;
  intake.linkRemade = false;
}

/**
 * Whether a sensor whose link was remade counts on from where it was: its clock must have gone as far as the
 * host's, within this.
 */
const SAME_RUN_TOLERANCE_S = 2;

function isSameRun(intake: SensorIntake, packet: StreamPacket, arrivalUs: number): boolean {
  const ticks = unwrapTick(intake.lastTick, packet.firstTick) - intake.lastTick;
  const elapsedS = (arrivalUs - intake.lastArrivalUs) * 1e-6;
  return Math.abs(ticks / intake.info!.tickHz - elapsedS) < SAME_RUN_TOLERANCE_S;
}

/** Called for every sample: its time step and whether a knock begins with it. */
export type SampleListener = (intake: SensorIntake, knocked: boolean, dtS: number) => void;

/**
 * Takes in one notification.
 * @returns what was wrong, in words, or null
 */
export function takeNotification(
  intake: SensorIntake,
  bytes: Uint8Array,
  arrivalUs: number,
  filter: FilterMethod,
  onSample: SampleListener,
): string | null {
  if (intake.info === null) {
    return refuse(
      intake,
      'samples came before the sensor said what it is. Connect the sensor again.',
    );
  }
  const decoded = decodeStreamPacket(bytes);
  if (!decoded.ok) return refuse(intake, decoded.fault.message);
  const { packet } = decoded;
  if (intake.linkRemade && !isSameRun(intake, packet, arrivalUs)) {
    startOver(intake, intake.info, filter);
  }
  intake.linkRemade = false;
  const { info, track, clock } = intake;
  if (track === null || clock === null) return null;
  const ahead = intake.nextSequence < 0 ? 0 : (packet.sequence - intake.nextSequence) & 0xffff;
  if (ahead >= 0x8000)
    return refuse(intake, 'a packet came twice or out of order and was left out.');
  const firstTick =
    intake.lastTick < 0 ? packet.firstTick : unwrapTick(intake.lastTick, packet.firstTick);
  if (firstTick <= intake.lastTick) {
    return refuse(
      intake,
      "the sensor's clock ran backwards. Switch the sensor off and on, connect again.",
    );
  }
  intake.lostPackets += ahead;
  intake.nextSequence = (packet.sequence + 1) & 0xffff;
  intake.lastArrivalUs = arrivalUs;
  observeArrival(clock, firstTick + packet.spanTicks, arrivalUs);
  takeSamples(intake, info, track, packet, firstTick, onSample);
  return null;
}

const gyr: Vector3 = vector3();
const acc: Vector3 = vector3();

function takeSamples(
  intake: SensorIntake,
  info: SensorInfo,
  track: SensorTrack,
  packet: StreamPacket,
  firstTick: number,
  onSample: SampleListener,
): void {
  const { samples } = packet;
  const count = samples.length / 6;
  const step = count > 1 ? packet.spanTicks / (count - 1) : info.tickHz / info.rateHz;
  for (let n = 0; n < count; n++) {
    const tick = firstTick + n * step;
    const sinceLast = intake.lastTick < 0 ? step : tick - intake.lastTick;
    let clipped = false;
    for (let i = 0; i < 3; i++) {
      const g = samples[6 * n + i]!;
      const a = samples[6 * n + 3 + i]!;
      clipped ||= g === INT16_MAX || g === INT16_MIN || a === INT16_MAX || a === INT16_MIN;
      gyr[i] = g * info.gyroScaleRadS;
      acc[i] = a * info.accelScaleMS2;
    }
    if (clipped) intake.clippedSamples++;
    const dtS = sinceLast / info.tickHz;
    const afterGap = sinceLast > GAP_INTERVALS * step;
    const knocked = addSample(track, tick, dtS, gyr, acc, clipped, afterGap);
    intake.lastTick = tick;
    onSample(intake, knocked, dtS);
  }
  const rateHz = info.tickHz / step;
  intake.rateHz = Number.isNaN(intake.rateHz)
    ? rateHz
    : intake.rateHz + 0.05 * (rateHz - intake.rateHz);
  intake.packets++;
}

function refuse(intake: SensorIntake, message: string): string {
  intake.refusedPackets++;
  intake.lastFault = message;
  return message;
}

/** The intake in the words of the live view. */
export function healthOf(intake: SensorIntake): SensorHealth {
  return {
    packets: intake.packets,
    samples: intake.track?.count ?? 0,
    lostPackets: intake.lostPackets,
    refusedPackets: intake.refusedPackets,
    lastFault: intake.lastFault,
    clippedSamples: intake.clippedSamples,
    rateHz: intake.rateHz,
    delaySpreadMs: intake.clock === null ? Number.NaN : delaySpreadMs(intake.clock),
    lastArrivalUs: intake.lastArrivalUs,
  };
}
