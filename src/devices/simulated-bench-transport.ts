import type { Segment } from '../core/arm/segments.ts';
import type { BenchRecording } from '../core/calibration/bench-recording.ts';
import { benchHardware } from '../core/simulator/bench-hardware.ts';
import { NO_ERRORS } from '../core/simulator/sensor-errors.ts';
import { LinkedSensors } from './linked-sensors.ts';
import { playRadio } from './play-radio.ts';
import { createSimulatedPort } from './simulated-port.ts';
import { SimulatedRadio } from './simulated-radio.ts';
import type { Transport } from './transport.ts';

/** What the simulated sensor at the bench feels, and how fast. */
export interface SimulatedBench {
  readonly recording: BenchRecording;
  /** 16 lower-case hex digits. */
  readonly serial: string;
  /** Simulated seconds per second. */
  readonly speed: number;
}

/**
 * One simulated sensor at a bench over a link like that of a real one; it begins to move when it is connected.
 * Checked: tests/devices/simulated-bench-transport.test.ts
 */
export function createSimulatedBenchTransport({
  recording,
  serial,
  speed,
}: SimulatedBench): Transport {
  const radio = new SimulatedRadio();
  const sensors = new LinkedSensors(radio);
  const port = createSimulatedPort(benchHardware(recording, serial), radio, NO_ERRORS, null, 1);
  let stop = (): void => {};
  return {
    records$: sensors.records$,
    connections$: sensors.connections$,
    startTimeline: () => {
      stop();
      stop = playRadio(radio, speed);
    },
    connect: (segment: Segment) => sensors.connect(segment, async () => port),
    identify: (segment) => sensors.identify(segment),
    forget: (segment) => sensors.forget(segment),
    nowUs: () => radio.nowUs(),
    close: async () => {
      await sensors.close();
      stop();
    },
  };
}
