import { SEGMENTS } from '../../src/core/arm/segments.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { DEFAULT_ERRORS, type SensorErrors } from '../../src/core/simulator/sensor-errors.ts';
import type { SessionOptions } from '../../src/core/simulator/session-types.ts';
import { simulateSensors } from '../../src/core/simulator/simulate-session.ts';
import { LinkedSensors } from '../../src/devices/linked-sensors.ts';
import { createSimulatedPort } from '../../src/devices/simulated-port.ts';
import { SimulatedRadio } from '../../src/devices/simulated-radio.ts';
import type { ConnectionState } from '../../src/devices/transport.ts';

/** The simulated player over simulated links, as fast as it goes. */
export async function runSimulatedLink(change: Partial<SensorErrors>, seconds: number) {
  const options: SessionOptions = {
    seed: 5,
    strategy: 'distal',
    implement: 'short',
    ball: 'training',
    handedness: 'right',
    swings: 8,
    swingIntervalS: 5,
    nominalRateHz: 200,
    errors: { ...DEFAULT_ERRORS, ...change },
  };
  const session = simulateSensors(options, { setId: 's', startedAtMs: 0, programVersion: 'test' });
  const radio = new SimulatedRadio();
  const sensors = new LinkedSensors(radio);
  const records: SetRecord[] = [];
  const states: ConnectionState[] = [];
  sensors.records$.subscribe((record) => records.push(record));
  sensors.connections$.subscribe((all) => states.push(all.forearm));
  SEGMENTS.forEach((segment, k) => {
    const { errors } = options;
    const port = createSimulatedPort(
      session.hardware[k]!,
      radio,
      errors,
      k === 1 ? errors.dropout : null,
      90 + k,
    );
    void sensors.connect(segment, () => Promise.resolve(port));
  });
  radio.at(session.zeroRequestUs, () => {
    records.push({ kind: 'event', hostTimeUs: radio.nowUs(), event: { type: 'zero-requested' } });
  });
  await radio.advance(seconds * 1e6, () => false);
  return { session, records, states, sensors, radio };
}
