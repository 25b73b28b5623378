import { crc16 } from './crc16.ts';
import { type PacketFault, refuse } from './packet-fault.ts';

/** Layout: firmware-protocol/SPEC.md, "Sensor information". */
const PROTOCOL_VERSION = 1;
const INFO_BYTES = 56;
const CRC_AT = 54;
const SERIAL_AT = 2;
const SERIAL_BYTES = 8;
const RATES_AT = 20;
const MAX_RATES = 8;
const MIN_TICK_HZ = 1_000;
const MAX_TICK_HZ = 1_000_000;

/** What a sensor says about itself before it streams. */
export interface SensorInfo {
  /** Always 1 so far. */
  readonly protocolVersion: number;
  /** 16 lower-case hex digits; never changes for one sensor. */
  readonly serial: string;
  /** 'major.minor.patch', each 0..255. */
  readonly firmwareVersion: string;
  /** Nominal ticks per second of the sensor's clock, 1 000..1 000 000. */
  readonly tickHz: number;
  /** Nominal samples per second now set; true sample times come from ticks. */
  readonly rateHz: number;
  /** 1 to 8 whole numbers, ascending, `rateHz` among them. */
  readonly supportedRatesHz: readonly number[];
  /** Ends of the measuring range: +- this, deg/s and g. */
  readonly gyroRangeDegS: number;
  readonly accelRangeG: number;
  /** rad/s and m/s^2 per unit of the int16 samples; float32 on the wire. */
  readonly gyroScaleRadS: number;
  readonly accelScaleMS2: number;
  /** Packets the sensor keeps for sending again; 0 when it keeps none. */
  readonly resendPackets: number;
  /** Tesla per unit of the magnetometer; null when the sensor has none. */
  readonly magnetometerScaleT: number | null;
}

/** What decoding sensor information gives: the information, or a named reason why not. */
export type SensorInfoResult =
  | { readonly ok: true; readonly info: SensorInfo }
  | { readonly ok: false; readonly fault: PacketFault };

/**
 * Bytes of the *info* characteristic, checksum included.
 * @param info see {@link SensorInfo} for units; scales are rounded to float32
 * @returns 56 bytes, little-endian, owning its buffer
 * @throws RangeError when a field does not fit, with the decoder's words
 * Source: firmware-protocol/SPEC.md.  Checked: firmware-protocol/vectors.json
 */
export function encodeSensorInfo(info: SensorInfo): Uint8Array {
  const bytes = new Uint8Array(INFO_BYTES);
  const view = new DataView(bytes.buffer);
  if (!/^[0-9a-f]{16}$/.test(info.serial)) {
    throw new RangeError(`serial must be 16 lower-case hex digits, got '${info.serial}'`);
  }
  const version = /^(\d{1,3})\.(\d{1,3})\.(\d{1,3})$/.exec(info.firmwareVersion);
  if (version === null || info.supportedRatesHz.length > MAX_RATES) {
    throw new RangeError(
      `firmwareVersion must read 'a.b.c' and at most ${MAX_RATES} rates fit, got '${info.firmwareVersion}' and ${info.supportedRatesHz.length} rates`,
    );
  }
  view.setUint8(0, info.protocolVersion);
  for (let i = 0; i < SERIAL_BYTES; i++) {
    view.setUint8(SERIAL_AT + i, Number.parseInt(info.serial.slice(2 * i, 2 * i + 2), 16));
  }
  for (let i = 0; i < 3; i++) view.setUint8(10 + i, Number(version[i + 1]));
  view.setUint8(13, info.supportedRatesHz.length);
  view.setUint32(14, info.tickHz, true);
  view.setUint16(18, info.rateHz, true);
  info.supportedRatesHz.forEach((rateHz, i) => {
    view.setUint16(RATES_AT + 2 * i, rateHz, true);
  });
  view.setUint16(36, info.gyroRangeDegS, true);
  view.setUint16(38, info.accelRangeG, true);
  view.setFloat32(40, info.gyroScaleRadS, true);
  view.setFloat32(44, info.accelScaleMS2, true);
  view.setUint16(48, info.resendPackets, true);
  view.setFloat32(50, info.magnetometerScaleT ?? 0, true);
  view.setUint16(CRC_AT, crc16(bytes.subarray(0, CRC_AT)), true);
  requireSame(info, decodeSensorInfo(bytes));
  return bytes;
}

/**
 * Reads sensor information. Never throws and never reads outside `bytes`.
 * @param bytes the whole value of the *info* characteristic, at any alignment
 * @returns the information, or the first fault found in the order SPEC.md lists
 * Source: firmware-protocol/SPEC.md.  Checked: firmware-protocol/vectors.json
 */
export function decodeSensorInfo(bytes: Uint8Array): SensorInfoResult {
  if (bytes.length < 1) {
    return refuse('too-short', 'The sensor information is empty. Switch the sensor off and on.');
  }
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const protocolVersion = view.getUint8(0);
  if (protocolVersion !== PROTOCOL_VERSION) {
    return refuse(
      'wrong-version',
      `The sensor speaks protocol version ${protocolVersion}; this program speaks version ${PROTOCOL_VERSION}. Update the sensor's firmware or this program.`,
    );
  }
  if (bytes.length !== INFO_BYTES) {
    return refuse(
      'length-mismatch',
      `The sensor information has ${bytes.length} bytes instead of ${INFO_BYTES}. Check the sensor's firmware.`,
    );
  }
  if (view.getUint16(CRC_AT, true) !== crc16(bytes.subarray(0, CRC_AT))) {
    return refuse(
      'bad-checksum',
      'The sensor information was damaged (checksum). Connect again; if it stays, check the firmware.',
    );
  }
  if (view.getUint8(1) !== 0) {
    return refuse(
      'reserved-bits',
      'The sensor information sets bits that version 1 reserves. Update this program.',
    );
  }
  return decodeFields(bytes, view);
}

/** The fields of information whose frame is sound. */
function decodeFields(bytes: Uint8Array, view: DataView): SensorInfoResult {
  const tickHz = view.getUint32(14, true);
  if (tickHz < MIN_TICK_HZ || tickHz > MAX_TICK_HZ) {
    return refuse(
      'bad-tick-rate',
      `The sensor's clock claims ${tickHz} ticks per second; ${MIN_TICK_HZ} to ${MAX_TICK_HZ} are allowed. Check the firmware.`,
    );
  }
  const rateHz = view.getUint16(18, true);
  const rates = Array.from({ length: MAX_RATES }, (_, i) => view.getUint16(RATES_AT + 2 * i, true));
  const rateCount = view.getUint8(13);
  if (!ratesAreSound(rates, rateCount, rateHz)) {
    return refuse(
      'bad-rate',
      `The sensor lists ${rateCount} sample rates (${rates.join(', ')}) and uses ${rateHz} Hz; the list must ascend, end in zeros and hold the rate in use. Check the firmware.`,
    );
  }
  const gyroRangeDegS = view.getUint16(36, true);
  const accelRangeG = view.getUint16(38, true);
  if (gyroRangeDegS === 0 || accelRangeG === 0) {
    return refuse('bad-range', 'The sensor claims a measuring range of zero. Check the firmware.');
  }
  const gyroScaleRadS = view.getFloat32(40, true);
  const accelScaleMS2 = view.getFloat32(44, true);
  const magnetometerUnitT = view.getFloat32(50, true);
  const magnetometerScaleT = magnetometerUnitT === 0 ? null : magnetometerUnitT;
  if (!isScale(gyroScaleRadS) || !isScale(accelScaleMS2) || !isScale(magnetometerScaleT ?? 1)) {
    return refuse(
      'bad-scale',
      `The sensor's scales (${gyroScaleRadS} rad/s, ${accelScaleMS2} m/s^2, ${magnetometerScaleT} T per unit) must be positive numbers. Check the firmware.`,
    );
  }
  return {
    ok: true,
    info: {
      protocolVersion: PROTOCOL_VERSION,
      serial: Array.from(bytes.subarray(SERIAL_AT, SERIAL_AT + SERIAL_BYTES), hexByte).join(''),
      firmwareVersion: bytes.subarray(10, 13).join('.'),
      tickHz,
      rateHz,
      supportedRatesHz: rates.slice(0, rateCount),
      gyroRangeDegS,
      accelRangeG,
      gyroScaleRadS,
      accelScaleMS2,
      resendPackets: view.getUint16(48, true),
      magnetometerScaleT,
    },
  };
}

function ratesAreSound(rates: readonly number[], count: number, rateHz: number): boolean {
  if (count < 1 || count > MAX_RATES) return false;
  const used = rates.slice(0, count);
  const ascending = used.every((rate, i) => rate > (i === 0 ? 0 : used[i - 1]!));
  return ascending && used.includes(rateHz) && rates.slice(count).every((rate) => rate === 0);
}

function isScale(scale: number): boolean {
  return Number.isFinite(scale) && scale > 0;
}

function hexByte(byte: number): string {
  return byte.toString(16).padStart(2, '0');
}

/** DataView wraps what does not fit; reading back finds it without a second set of rules. */
function requireSame(info: SensorInfo, result: SensorInfoResult): void {
  if (!result.ok) throw new RangeError(result.fault.message);
  const expected: SensorInfo = {
    ...info,
    gyroScaleRadS: Math.fround(info.gyroScaleRadS),
    accelScaleMS2: Math.fround(info.accelScaleMS2),
    magnetometerScaleT:
      info.magnetometerScaleT === null ? null : Math.fround(info.magnetometerScaleT),
  };
  for (const key of Object.keys(result.info) as (keyof SensorInfo)[]) {
    if (String(expected[key]) !== String(result.info[key])) {
      throw new RangeError(
        `${key} ${String(info[key])} does not fit its place in the sensor information`,
      );
    }
  }
}
