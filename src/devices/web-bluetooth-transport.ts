import { SEGMENTS, type Segment } from '../core/arm/segments.ts';
import { LinkedSensors } from './linked-sensors.ts';
import { SERVICE_UUID } from './profile.ts';
import type { SensorPlaces } from './sensor-places.ts';
import { OPTIONAL_SERVICES } from './standard-services.ts';
import type { Transport } from './transport.ts';
import { createWebBluetoothPort } from './web-bluetooth-port.ts';

/**
 * Three sensors by Web Bluetooth.
 * `connect` must be called from a tap or key press: the browser shows its chooser only then. Sensors that
 * had a place last time are linked by themselves where the browser offers it.
 */
export function createWebBluetoothTransport(bluetooth: Bluetooth, places: SensorPlaces): Transport {
  let zeroMs = performance.now();
  const nowUs = (): number => Math.round((performance.now() - zeroMs) * 1000);
  const sensors = new LinkedSensors({
    nowUs,
    wait: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
  });
  let begin: () => void = () => {};
  // Links live on one timeline: none is made before its zero.
  const begun = new Promise<void>((resolve) => {
    begin = resolve;
  });

  const choose = async (segment: Segment) => {
    const device = await bluetooth.requestDevice({
      filters: [{ services: [SERVICE_UUID] }],
      optionalServices: [...OPTIONAL_SERVICES],
    });
    await begun;
    places.keep(segment, device);
    return createWebBluetoothPort(device);
  };

  const connectRemembered = async (): Promise<void> => {
    const devices = 'getDevices' in bluetooth ? await bluetooth.getDevices() : [];
    for (const segment of SEGMENTS) {
      const id = places.deviceId(segment);
      const device = places.device(segment) ?? devices.find((one) => one.id === id);
      if (device === undefined || sensors.isLinked(segment)) continue;
      void sensors.connect(segment, async () => createWebBluetoothPort(device));
    }
  };

  return {
    records$: sensors.records$,
    connections$: sensors.connections$,
    startTimeline: () => {
      zeroMs = performance.now();
      begin();
      connectRemembered().catch(() => {
        // The coach chooses by tap.
      });
    },
    connect: (segment) => sensors.connect(segment, () => choose(segment)),
    identify: (segment) => sensors.identify(segment),
    forget: async (segment) => {
      places.drop(segment);
      await sensors.forget(segment);
    },
    nowUs,
    close: () => sensors.close(),
  };
}
