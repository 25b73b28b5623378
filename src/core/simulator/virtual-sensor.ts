import { SEGMENTS } from '../arm/segments.ts';
import { RAD_PER_DEG, STANDARD_GRAVITY } from '../maths/angles.ts';
import {
  conjugate,
  fromRotationVector,
  multiply,
  type Quaternion,
  quaternion,
  rotateInverse,
  toRotationVector,
} from '../maths/quaternion.ts';
import type { Random } from '../maths/random.ts';
import { type Vector3, vector3 } from '../maths/vector.ts';
import type { SensorInfo } from '../packets/sensor-info.ts';
import { ARM_CHANNELS, pointOnSegment, segmentOrientation } from './arm-kinematics.ts';
import { fallAt, fallSignals } from './fall.ts';
import { direction, type IdealSignals } from './knock.ts';
import type { SensorErrors, SensorSlip } from './sensor-errors.ts';
import { movementAt, type PlannedMovement } from './virtual-player.ts';

/** What makes one simulated sensor different from the next; fixed for a session. */
export interface VirtualSensor {
  readonly segment: number;
  readonly info: SensorInfo;
  /** True output rate and tick rate. */
  readonly rateHz: number;
  readonly tickHz: number;
  readonly firstTick: number;
  readonly qSegmentFromSensor: Quaternion;
  /** Sensor's place in the segment frame, metres. */
  readonly offsetM: Vector3;
  /** Row-major (3,3): measured = matrix * true + bias. */
  readonly gyroMatrix: Float64Array;
  readonly accelMatrix: Float64Array;
  readonly gyroBiasRadS: Vector3;
  readonly accelBiasMS2: Vector3;
  readonly slip: SensorSlip | null;
}

/** Ticks are microseconds, so that the 32-bit count wraps after 71 minutes. */
const TICK_HZ = 1_000_000;
const IMPLEMENT = 2;

/** Draws one sensor. @param segment 0 upper arm .. 2 implement @param fromJointM along the segment, metres */
export function createVirtualSensor(
  segment: number,
  fromJointM: number,
  nominalRateHz: number,
  errors: SensorErrors,
  random: Random,
): VirtualSensor {
  const axis = direction(random);
  const turn = random.uniform(0.4, 1) * errors.mountingDeg * RAD_PER_DEG;
  const around = random.uniform(0, 2 * Math.PI);
  const uniform3 = (limit: number) =>
    Float64Array.from({ length: 3 }, () => random.uniform(-limit, limit));
  const matrix = () =>
    Float64Array.from({ length: 9 }, (_, i) =>
      i % 4 === 0 ? 1 + random.normal(errors.scale) : random.normal(errors.crossAxis),
    );
  return {
    segment,
    info: {
      protocolVersion: 1,
      serial:
        `51a0000000000${segment}${Math.floor(random.uniform(0, 256)).toString(16).padStart(2, '0')}`.slice(
          0,
          16,
        ),
      firmwareVersion: '1.0.0',
      tickHz: TICK_HZ,
      rateHz: nominalRateHz,
      supportedRatesHz: [100, 200, 400],
      gyroRangeDegS: errors.gyroRangeDegS,
      accelRangeG: errors.accelRangeG,
      gyroScaleRadS: Math.fround((errors.gyroRangeDegS * RAD_PER_DEG) / 32767),
      accelScaleMS2: Math.fround((errors.accelRangeG * STANDARD_GRAVITY) / 32767),
      resendPackets: 0,
      magnetometerScaleT: null,
    },
    rateHz: nominalRateHz * (1 + random.uniform(-errors.rateOff, errors.rateOff)),
    tickHz: TICK_HZ * (1 + random.uniform(-errors.clockPpm, errors.clockPpm) * 1e-6),
    firstTick: Math.floor(random.uniform(0, 2 ** 32)),
    qSegmentFromSensor: fromRotationVector(
      quaternion(),
      axis[0]! * turn,
      axis[1]! * turn,
      axis[2]! * turn,
    ),
    offsetM: vector3(
      fromJointM,
      errors.offAxisM * Math.cos(around),
      errors.offAxisM * Math.sin(around),
    ),
    gyroMatrix: matrix(),
    accelMatrix: matrix(),
    gyroBiasRadS: uniform3(errors.gyroBiasDegS * RAD_PER_DEG),
    accelBiasMS2: uniform3(errors.accelBiasMilliG * 1e-3 * STANDARD_GRAVITY),
    slip: errors.slip?.segment === SEGMENTS[segment] ? errors.slip : null,
  };
}

/** Half the span of the central differences, seconds: errors below 1e-4 m/s^2. */
const H_S = 1e-4;
const channels = new Float64Array(ARM_CHANNELS);
const before = quaternion();
const now = quaternion();
const after = quaternion();
const turnBetween = vector3();
const p0 = vector3();
const p1 = vector3();
const p2 = vector3();

/**
 * What a perfect sensor would feel, by central differences of the planned movement.
 * @param out overwritten
 */
export function idealSignals(
  sensor: VirtualSensor,
  movement: PlannedMovement,
  lengthsM: readonly number[],
  timeS: number,
  wobbleRad: number,
  out: IdealSignals,
): void {
  const { segment, offsetM } = sensor;
  const fall = segment === IMPLEMENT ? fallAt(movement.interludes, timeS) : null;
  if (fall !== null) {
    fallSignals(fall, timeS, out);
    rotateInverse(out.gyr, sensor.qSegmentFromSensor, out.gyr);
    rotateInverse(out.acc, sensor.qSegmentFromSensor, out.acc);
    return;
  }
  sensorOrientation(before, sensor, movement, timeS - H_S, wobbleRad);
  pointOnSegment(p0, channels, lengthsM, segment, offsetM);
  sensorOrientation(now, sensor, movement, timeS, wobbleRad);
  pointOnSegment(p1, channels, lengthsM, segment, offsetM);
  sensorOrientation(after, sensor, movement, timeS + H_S, wobbleRad);
  pointOnSegment(p2, channels, lengthsM, segment, offsetM);
  multiply(before, conjugate(before, before), after);
  toRotationVector(turnBetween, before);
  for (let i = 0; i < 3; i++) {
    out.gyr[i] = turnBetween[i]! / (2 * H_S);
    out.acc[i] = (p0[i]! - 2 * p1[i]! + p2[i]!) / (H_S * H_S);
  }
  out.acc[2] = out.acc[2]! + STANDARD_GRAVITY;
  rotateInverse(out.acc, now, out.acc);
}

const qWobble = quaternion();
/** Soft tissue swings at about this frequency (order of magnitude, common practice, no source). */
const WOBBLE_HZ = 9;

function sensorOrientation(
  out: Quaternion,
  sensor: VirtualSensor,
  movement: PlannedMovement,
  timeS: number,
  wobbleRad: number,
): void {
  movementAt(movement, timeS, channels);
  segmentOrientation(out, channels, sensor.segment);
  if (wobbleRad !== 0 && sensor.segment < 2) {
    const angle = wobbleRad * Math.sin(2 * Math.PI * WOBBLE_HZ * timeS);
    multiply(out, out, fromRotationVector(qWobble, angle, 0.3 * angle, 0));
  }
  const { slip } = sensor;
  if (slip !== null) multiply(out, out, slipAt(qSlip, slip, timeS));
  multiply(out, out, sensor.qSegmentFromSensor);
}

const qSlip = quaternion();
/** A slip, and its way back, takes this long, seconds. */
const SLIP_S = 0.1;

/** How far a loose sensor has turned, in the segment frame. */
function slipAt(out: Quaternion, slip: SensorSlip, timeS: number): Quaternion {
  const { atS, lastsS, angleDeg, axis } = slip;
  const share = smoothStep((timeS - atS) / SLIP_S) - smoothStep((timeS - atS - lastsS) / SLIP_S);
  const factor = (share * angleDeg * RAD_PER_DEG) / Math.hypot(...axis);
  return fromRotationVector(out, factor * axis[0], factor * axis[1], factor * axis[2]);
}

/** 0 to 1 with minimum jerk. */
function smoothStep(u: number): number {
  const x = Math.min(1, Math.max(0, u));
  return x ** 3 * (10 - 15 * x + 6 * x * x);
}
