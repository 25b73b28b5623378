import { describe, expect, it } from 'vitest';
import { readDescription } from '../../src/core/recording/description-json.ts';
import { describeSet } from '../../src/screens/describe-set.ts';
import { samplePlan } from '../recording/sample-plan.ts';

const head = { setId: 'a', startedAtMs: 0, programVersion: 'test' };
const player = {
  player: 'Heron',
  handedness: 'left',
  consentOn: '2026-05-31',
  statureM: 1.33,
  upperArmM: 0.247,
  forearmM: 0.194,
  upperArmSensorM: 0.15,
  forearmSensorM: 0.14,
  seenMs: 0,
} as const;
const triad = {
  matrix: [1.01, 0.002, -0.003, 0, 0.99, 0.004, 0, 0, 1.005],
  bias: [0.01, -0.02, 0.003],
  matrixSE: [1e-4, 2e-4, 3e-4, 0, 1e-4, 2e-4, 0, 0, 1e-4],
  biasSE: [1e-5, 1e-5, 1e-5],
  residualRms: 0.004,
};
const sampleCalibration = {
  accelerometer: triad,
  gyroscope: triad,
  localGravityMS2: 9.81,
  rests: 30,
  restsSetAside: 1,
  turns: 28,
  turnsSetAside: 0,
};
const planned = { plan: samplePlan, scoreSteps: [1, 0] };

describe('describeSet', () => {
  it('begins with the condition of the first block, and is read back as it is', () => {
    const plan = { ...samplePlan, blocks: [1, 0], order: 'random', orderSeed: 4 } as const;
    const description = describeSet(player, { ...planned, plan }, head, []);
    expect(description).toMatchObject({
      source: 'sensors',
      player: 'Heron',
      consentOn: '2026-05-31',
      statureM: 1.33,
      implement: 'long racket',
      ball: 'standard',
      feed: 'from the hand',
      lengthsM: { upperArm: 0.247, forearm: 0.194, implement: 0.65 },
      sensorFromJointM: { upperArm: 0.15, forearm: 0.14, implement: 0.12 },
      plan,
    });
    expect(description).not.toHaveProperty('armEstimatedFromStatureM');
    expect(readDescription(description)).toEqual(description);
  });

  it('leaves out what nobody said', () => {
    const { statureM: _, ...unmeasured } = player;
    const description = describeSet(unmeasured, planned, head, []);
    expect(description).not.toHaveProperty('statureM');
    expect(description).not.toHaveProperty('feed');
    expect(readDescription(description)).toEqual(description);
  });

  it('takes bench calibrations along, and no more of them than a file holds', () => {
    const known = Array.from({ length: 70 }, (_, k) => ({
      serial: k.toString(16).padStart(16, '0'),
      calibration: sampleCalibration,
      calibratedMs: 70 - k,
    }));
    const description = describeSet(player, planned, head, known);
    expect(description.calibrations).toHaveLength(64);
    expect(description.calibrations?.[0]).toEqual({
      serial: '0000000000000000',
      calibration: sampleCalibration,
    });
    expect(readDescription(description)).toEqual(description);
    expect(describeSet(player, planned, head, [])).not.toHaveProperty('calibrations');
  });

  it('describes nobody who has not agreed', () => {
    const { consentOn: _, ...silent } = player;
    expect(() => describeSet(silent, planned, head, [])).toThrow('Heron has not agreed');
  });
});
