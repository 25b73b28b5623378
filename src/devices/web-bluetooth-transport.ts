import type { Segment } from '../core/arm/segments.ts';
import { LinkedSensors } from './linked-sensors.ts';
import { SERVICE_UUID } from './profile.ts';
import type { Transport } from './transport.ts';
import { createWebBluetoothPort, OPTIONAL_SERVICES } from './web-bluetooth-port.ts';

/**
 * Three sensors by Web Bluetooth.
 * `connect` must be called from a tap or key press: the browser shows its chooser only then.
 */
export function createWebBluetoothTransport(bluetooth: Bluetooth): Transport {
  let zeroMs = performance.now();
  const nowUs = (): number => Math.round((performance.now() - zeroMs) * 1000);
  const sensors = new LinkedSensors({
    nowUs,
    wait: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
  });
  return {
    records$: sensors.records$,
    connections$: sensors.connections$,
    startTimeline: () => {
      zeroMs = performance.now();
    },
    connect: (segment: Segment) =>
      sensors.connect(segment, async () =>
        createWebBluetoothPort(
          await bluetooth.requestDevice({
            filters: [{ services: [SERVICE_UUID] }],
            optionalServices: [...OPTIONAL_SERVICES],
          }),
        ),
      ),
    identify: (segment) => sensors.identify(segment),
    forget: (segment) => sensors.forget(segment),
    nowUs,
    close: () => sensors.close(),
  };
}
