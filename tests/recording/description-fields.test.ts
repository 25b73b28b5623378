import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { SensorCalibration } from '../../src/core/calibration/sensor-calibration.ts';
import { readDescription } from '../../src/core/recording/description-json.ts';
import type { SetDescription } from '../../src/core/recording/set-description.ts';
import { readSet } from '../../src/core/recording/set-reader.ts';
import { sampleDescription, setFile } from './sample-set.ts';

const triad = {
  matrix: [1.01, 0.002, -0.003, 0, 0.99, 0.004, 0, 0, 1.005],
  bias: [0.01, -0.02, 0.003],
  matrixSE: [1e-4, 2e-4, 3e-4, 0, 1e-4, 2e-4, 0, 0, 1e-4],
  biasSE: [1e-5, 1e-5, 1e-5],
  residualRms: 0.004,
};
const calibration: SensorCalibration = {
  accelerometer: triad,
  gyroscope: triad,
  localGravityMS2: 9.81,
  rests: 30,
  restsSetAside: 1,
  turns: 28,
  turnsSetAside: 0,
};
const full: SetDescription = {
  ...sampleDescription,
  armEstimatedFromStatureM: 1.28,
  calibrations: [
    { serial: '51a0000000000042', calibration },
    { serial: '51a0000000000043', calibration },
  ],
};

describe('the description of a set', () => {
  it('keeps stature and calibrations in the file', () => {
    const result = readSet(setFile([], full));
    if (!result.ok) throw new Error(result.error.message);
    expect(result.set.description).toEqual(full);
  });

  it('of a demo set made before these fields has neither', () => {
    const path = new URL('../../recorded-streams/player-a-short-racket.mcap', import.meta.url);
    const result = readSet(readFileSync(path));
    if (!result.ok) throw new Error(result.error.message);
    const fields = Object.keys(result.set.description);
    expect(fields).not.toContain('armEstimatedFromStatureM');
    expect(fields).not.toContain('calibrations');
  });

  it('drops fields it does not know, inside a calibration too', () => {
    const extra = { ...calibration, note: 1, gyroscope: { ...triad, colour: 'red' } };
    const read = readDescription({
      ...full,
      calibrations: [{ ...full.calibrations![0], ...{ calibration: extra } }],
    });
    expect(read.calibrations).toEqual([full.calibrations![0]]);
  });

  const changed = (part: object) => [
    { serial: '51a0000000000042', calibration: { ...calibration, ...part } },
  ];
  const gyro = (part: object) => changed({ gyroscope: { ...triad, ...part } });
  it.each([
    ['armEstimatedFromStatureM', 128, 'from 0.7 to 2.3, found 128'],
    ['armEstimatedFromStatureM', null, 'must be a number'],
    ['calibrations', {}, 'calibrations must be a list'],
    ['calibrations', Array(65).fill(full.calibrations![0]), 'at most 64'],
    ['calibrations', [{ serial: 'ABC', calibration }], 'calibrations[0].serial must be 16'],
    ['calibrations', [full.calibrations![0], full.calibrations![0]], '51a0000000000042 twice'],
    ['calibrations', [{ serial: '51a0000000000042' }], 'calibrations[0].calibration must be'],
    ['calibrations', changed({ localGravityMS2: 981 }), 'localGravityMS2 must be a number from 9'],
    ['calibrations', changed({ rests: -1 }), 'rests must be'],
    ['calibrations', gyro({ matrix: [1, 0, 0] }), 'gyroscope.matrix must have 9 numbers, found 3'],
    ['calibrations', gyro({ matrix: Array(9).fill(null) }), 'gyroscope.matrix[0] must be a number'],
    ['calibrations', gyro({ bias: [0, 0, 57] }), 'gyroscope.bias[2] must be a number'],
    ['calibrations', gyro({ biasSE: [0, 0, -1e-9] }), 'gyroscope.biasSE[2] must be a number'],
    ['calibrations', gyro({ residualRms: Number.NaN }), 'gyroscope.residualRms must be a number'],
  ])('is refused with %s = %j', (field, value, words) => {
    expect(() => readDescription({ ...sampleDescription, [field]: value })).toThrow(words);
  });
});
