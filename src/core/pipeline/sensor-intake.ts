import { calibrateSample, type SensorCalibration } from '../calibration/sensor-calibration.ts';
import {
  type ClockMap,
  createClockMap,
  delaySpreadMs,
  observeArrival,
  observePing,
} from '../clocks/clock-map.ts';
import { unwrapTick } from '../clocks/tick-unwrap.ts';
import { type Vector3, vector3 } from '../maths/vector.ts';
import type { FilterMethod } from '../orientation/filter.ts';
import {
  addSample,
  createTrack,
  type SensorTrack,
  TRACK_CAPACITY,
} from '../orientation/sensor-track.ts';
import { decodeSensorInfo, type SensorInfo } from '../packets/sensor-info.ts';
import { checkStreamPacket, sampleValue, type WholePacket } from '../packets/stream-packet.ts';
import type { CalibratedSensor } from '../recording/set-description.ts';
import type { SensorHealth } from './outputs.ts';
import {
  createPacketOrder,
  markLost,
  type PacketOrder,
  placePacket,
  takeNext,
} from './packet-order.ts';

/** One sensor from bytes to oriented samples. Plain data with the default filter. */
export interface SensorIntake {
  info: SensorInfo | null;
  /** All bench calibrations of the set, and the one that fits this sensor's serial. */
  readonly calibrations: readonly CalibratedSensor[];
  calibration: SensorCalibration | null;
  track: SensorTrack | null;
  clock: ClockMap | null;
  order: PacketOrder;
  /** Unwrapped tick of the last sample taken in, and of the newest packet received; -1 before the first. */
  lastTick: number;
  newestTick: number;
  /** Ticks from packet to packet, by the last one taken in. */
  packetTicks: number;
  /** The information came again: the next packet shows whether the sensor was switched off in between. */
  linkRemade: boolean;
  /** How often the sensor began anew or was exchanged. */
  restarts: number;
  packets: number;
  /** Lost in earlier runs of the sensor; `order` counts those of this run. */
  lostBefore: number;
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

/** Nothing received yet. @param calibrations of the set; the sensor's serial chooses */
export function createIntake(calibrations: readonly CalibratedSensor[] = []): SensorIntake {
  return {
    info: null,
    calibrations,
    calibration: null,
    track: null,
    clock: null,
    order: createPacketOrder(),
    lastTick: -1,
    newestTick: -1,
    packetTicks: 0,
    linkRemade: false,
    restarts: 0,
    packets: 0,
    lostBefore: 0,
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
  const known = intake.calibrations.find(({ serial }) => serial === info.serial);
  intake.calibration = known?.calibration ?? null;
  intake.track = createTrack(filter, 1 / info.rateHz);
  intake.clock = createClockMap(info.tickHz);
  intake.lostBefore += intake.order.lostPackets;
  intake.order = createPacketOrder();
  intake.lastTick = -1;
  intake.newestTick = -1;
  intake.linkRemade = false;
}

/**
 * Whether a sensor whose link was remade counts on from where it was: its clock must have gone as far as the
 * host's, within this.
 */
const SAME_RUN_TOLERANCE_S = 2;

function isSameRun(intake: SensorIntake, packet: WholePacket, arrivalUs: number): boolean {
  const ticks = unwrapTick(intake.newestTick, packet.firstTick) - intake.newestTick;
  const elapsedS = (arrivalUs - intake.lastArrivalUs) * 1e-6;
  return Math.abs(ticks / intake.info!.tickHz - elapsedS) < SAME_RUN_TOLERANCE_S;
}

/** Called for every sample: its time step and whether a knock begins with it. */
export type SampleListener = (intake: SensorIntake, knocked: boolean, dtS: number) => void;

/**
 * Takes in one notification: at once when it is the next one, later when others are missing before it and
 * the sensor can send those again.
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
  const checked = checkStreamPacket(bytes);
  if (!checked.ok) return refuse(intake, checked.fault.message);
  const { packet } = checked;
  const wrongRate = rateFault(intake.info, packet);
  if (wrongRate !== null) return refuse(intake, wrongRate);
  if (intake.linkRemade && !packet.resent) {
    if (!isSameRun(intake, packet, arrivalUs)) startOver(intake, intake.info, filter);
    intake.linkRemade = false;
  }
  if (!placePacket(intake.order, packet)) {
    return refuse(intake, 'a packet came twice, or after it was given up, and was left out.');
  }
  if (!packet.resent) observePacket(intake, packet, arrivalUs);
  return takeWaiting(intake, onSample);
}

/** The link knows that packets will not come any more. @returns what was wrong, in words, or null */
export function takeLoss(
  intake: SensorIntake,
  firstSequence: number,
  count: number,
  onSample: SampleListener,
): string | null {
  markLost(intake.order, firstSequence, count);
  return takeWaiting(intake, onSample);
}

/** An answered clock ping; says nothing before the first packet. */
export function takePing(
  intake: SensorIntake,
  tick: number,
  sentUs: number,
  answeredUs: number,
): void {
  if (intake.clock === null || intake.newestTick < 0) return;
  observePing(intake.clock, unwrapTick(intake.newestTick, tick), sentUs, answeredUs);
}

/** The tick of a packet's first sample, unwrapped. */
function unwrapped(intake: SensorIntake, packet: WholePacket): number {
  const near = intake.newestTick < 0 ? packet.firstTick : intake.newestTick;
  return unwrapTick(near, packet.firstTick);
}

/** Only packets sent for the first time say something about the clock and the link. */
function observePacket(intake: SensorIntake, packet: WholePacket, arrivalUs: number): void {
  const firstTick = unwrapped(intake, packet);
  intake.newestTick = Math.max(intake.newestTick, firstTick);
  intake.lastArrivalUs = arrivalUs;
  if (intake.clock !== null) observeArrival(intake.clock, firstTick + packet.spanTicks, arrivalUs);
}

/** A missing packet is waited for over so much of the sensor's own time, seconds: its ring holds 10 or more. */
const LONGEST_WAIT_S = 13;
/** What is read last must still be in the tracks of those that went on, seconds. */
const TRACK_MARGIN_S = 2;

/**
 * How long what a sensor may send again is waited for, seconds: 0 when it sends nothing again, and never longer than the
 * tracks of its neighbours remember, or what is sent again would push them out unread.
 */
export function longestWaitS({ resendPackets, rateHz }: SensorInfo): number {
  if (resendPackets === 0) return 0;
  return Math.min(LONGEST_WAIT_S, Math.max(0, TRACK_CAPACITY / rateHz - TRACK_MARGIN_S));
}

/**
 * Whether what is missing was waited for long enough. Packets known to be lost do not count: after a long drop
 * the ring still holds the newest of what is missing, and the first new packet must not push those out.
 */
function isWaitedOut(intake: SensorIntake, info: SensorInfo): boolean {
  if (intake.lastTick < 0) return false;
  const reachedTick = intake.lastTick + intake.order.lostSincePacket * intake.packetTicks;
  const waitedS = (intake.newestTick - reachedTick) / info.tickHz;
  const longestS = longestWaitS(info);
  return longestS === 0 || waitedS > longestS;
}

/** Takes in what is next in line, as far as nothing is missing. */
function takeWaiting(intake: SensorIntake, onSample: SampleListener): string | null {
  const { info, track, order } = intake;
  if (info === null || track === null) return null;
  let fault: string | null = null;
  for (;;) {
    const packet =
      takeNext(order, false) ?? (isWaitedOut(intake, info) ? takeNext(order, true) : null);
    if (packet === null) return fault;
    const firstTick = unwrapped(intake, packet);
    if (intake.lastTick >= 0 && firstTick <= intake.lastTick) {
      fault = refuse(
        intake,
        "the sensor's clock ran backwards. Switch the sensor off and on, connect again.",
      );
    } else {
      takeSamples(intake, info, track, packet, firstTick, onSample);
    }
  }
}

/** Sensors whose packets hold samples at another rate than they say are broken or hostile. */
const RATE_TOLERANCE = 0.2;

function rateFault(info: SensorInfo, packet: WholePacket): string | null {
  const { count } = packet;
  if (count < 2) return null;
  const rateHz = ((count - 1) * info.tickHz) / packet.spanTicks;
  if (Math.abs(rateHz / info.rateHz - 1) <= RATE_TOLERANCE) return null;
  return `the sensor sends ${rateHz.toFixed(0)} samples per second instead of ${info.rateHz}. Check its firmware.`;
}

const gyr: Vector3 = vector3();
const acc: Vector3 = vector3();

function takeSamples(
  intake: SensorIntake,
  info: SensorInfo,
  track: SensorTrack,
  packet: WholePacket,
  firstTick: number,
  onSample: SampleListener,
): void {
  const { count } = packet;
  const { calibration } = intake;
  const step = count > 1 ? packet.spanTicks / (count - 1) : info.tickHz / info.rateHz;
  intake.packetTicks = count * step;
  for (let n = 0; n < count; n++) {
    const tick = firstTick + n * step;
    const sinceLast = intake.lastTick < 0 ? step : tick - intake.lastTick;
    let clipped = false;
    for (let i = 0; i < 3; i++) {
      const g = sampleValue(packet, 6 * n + i);
      const a = sampleValue(packet, 6 * n + 3 + i);
      clipped ||= g === INT16_MAX || g === INT16_MIN || a === INT16_MAX || a === INT16_MIN;
      gyr[i] = g * info.gyroScaleRadS;
      acc[i] = a * info.accelScaleMS2;
    }
    if (clipped) intake.clippedSamples++;
    if (calibration !== null) {
      calibrateSample(gyr, calibration.gyroscope, gyr);
      calibrateSample(acc, calibration.accelerometer, acc);
    }
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
    lostPackets: intake.lostBefore + intake.order.lostPackets,
    waitingPackets: intake.order.waiting.size,
    refusedPackets: intake.refusedPackets,
    lastFault: intake.lastFault,
    clippedSamples: intake.clippedSamples,
    rateHz: intake.rateHz,
    delaySpreadMs: intake.clock === null ? Number.NaN : delaySpreadMs(intake.clock),
    leastDelayMs: (intake.clock?.leastDelayUs ?? Number.NaN) / 1000,
    clockHalfWidthMs: (intake.clock?.leastDelayHalfWidthUs ?? Number.NaN) / 1000,
    lastArrivalUs: intake.lastArrivalUs,
  };
}
