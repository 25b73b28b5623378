import { expect, it } from 'vitest';
import { calibrateAtBench } from '../../src/batch/bench-calibration.ts';
import { decodeSensorInfo } from '../../src/core/packets/sensor-info.ts';
import { simulateSession } from '../../src/core/simulator/simulate-session.ts';
import { sessionOptions } from '../simulator/session-options.ts';

it('calibrateAtBench calibrates the very sensors of the simulated set', { timeout: 60_000 }, () => {
  const options = sessionOptions({ swings: 1 });
  const { steps } = simulateSession(options, {
    setId: 'a',
    startedAtMs: 0,
    programVersion: 'test',
  });
  const serials: string[] = [];
  for (const step of steps) {
    if (step.kind !== 'record' || step.record.kind !== 'sensor-info') continue;
    const decoded = decodeSensorInfo(step.record.bytes);
    if (decoded.ok) serials.push(decoded.info.serial);
  }
  expect(serials).toHaveLength(3);
  expect(calibrateAtBench(options).map(({ serial }) => serial)).toEqual(serials);
});
