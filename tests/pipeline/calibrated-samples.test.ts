import { describe, expect, it } from 'vitest';
import type { SensorCalibration } from '../../src/core/calibration/sensor-calibration.ts';
import { encodeSensorInfo, type SensorInfo } from '../../src/core/packets/sensor-info.ts';
import { encodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import { createIntake, takeInfo, takeNotification } from '../../src/core/pipeline/sensor-intake.ts';
import { expectClose } from '../maths/close.ts';

const info: SensorInfo = {
  protocolVersion: 1,
  serial: '51a0000000000042',
  firmwareVersion: '1.0.0',
  tickHz: 1_000_000,
  rateHz: 200,
  supportedRatesHz: [200],
  gyroRangeDegS: 2000,
  accelRangeG: 16,
  // powers of two, so that float32 on the wire changes nothing
  gyroScaleRadS: 2 ** -10,
  accelScaleMS2: 2 ** -8,
  resendPackets: 0,
  magnetometerScaleT: null,
};
/** Gyroscope 1000, 0, -500 and accelerometer 0, 512, 2560 in units of int16. */
const packet = {
  clipped: false,
  dropped: false,
  resent: false,
  sequence: 0,
  firstTick: 0,
  spanTicks: 5000,
  samples: Int16Array.of(1000, 0, -500, 0, 512, 2560, 1000, 0, -500, 0, 512, 2560),
  magnetometer: null,
};

const triad = (matrix: readonly number[], bias: readonly number[]) => ({
  matrix,
  bias,
  matrixSE: Array<number>(9).fill(0),
  biasSE: [0, 0, 0],
  residualRms: 0,
});
const calibration: SensorCalibration = {
  gyroscope: triad([2, 0, 0, 0, 1, 0.5, 0, 0, 1], [0.5, 0, 0]),
  accelerometer: triad([1, 0.1, 0, 0, 1, 0, 0, 0, 0.5], [0, 1, 2]),
  localGravityMS2: 9.81,
  rests: 30,
  restsSetAside: 0,
  turns: 29,
  turnsSetAside: 0,
};

function taken(serial: string) {
  const intake = createIntake([
    { serial: '51a0000000000007', calibration: { ...calibration, rests: 7 } },
    { serial, calibration },
  ]);
  expect(takeInfo(intake, encodeSensorInfo(info), 'vqf')).toBeNull();
  expect(takeNotification(intake, encodeStreamPacket(packet), 1e4, 'vqf', () => {})).toBeNull();
  const { gyr, acc, filter, count } = intake.track!;
  expect(count).toBe(2);
  expect(filter.method).toBe('vqf');
  return { gyr: gyr.slice(0, 3), acc: acc.slice(0, 3) };
}

/**
 * What a first sample can move the filter's bias: 2 deg/s times a gain of 2500/2 000 100
 * (initial over motion's variance at 200 Hz, VQF_DEFAULTS), rad/s.
 */
const BIAS = 1e-4;

describe('a bench calibration', () => {
  it('is applied to the raw samples of the sensor with its serial', () => {
    // By hand: gyroscope (1000, 0, -500)/1024 - (0.5, 0, 0), first row doubled, half of z added to y;
    // accelerometer (0, 2, 10) - (0, 1, 2) = (0, 1, 8), a tenth of y added to x, z halved.
    const { gyr, acc } = taken(info.serial);
    expectClose(gyr, [2 * (1000 / 1024 - 0.5), -250 / 1024, -500 / 1024], BIAS);
    expectClose(acc, [0.1, 1, 4], 1e-15);
  });

  it('leaves other sensors as they are', () => {
    const { gyr, acc } = taken('51a0000000000043');
    expectClose(gyr, [1000 / 1024, 0, -500 / 1024], BIAS);
    expectClose(acc, [0, 2, 10], 0);
  });
});
