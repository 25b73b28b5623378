import { SEGMENTS, type Segment } from '../core/arm/segments.ts';

const KEY = 'sensor-places';

/** Which sensor sat on which segment last time. One for all transports of a page. */
export interface SensorPlaces {
  /** The browser's own id. */
  deviceId(segment: Segment): string | null;
  /** The device itself, if it was chosen on this page; only some browsers give it back after a reload. */
  device(segment: Segment): BluetoothDevice | null;
  keep(segment: Segment, device: BluetoothDevice): void;
  drop(segment: Segment): void;
}

/**
 * Places kept in the browser's storage.
 * @param open gives the storage; may throw, as browsers do where storage is forbidden: nothing is kept then
 */
export function createSensorPlaces(open: () => Storage): SensorPlaces {
  const chosen = new Map<Segment, BluetoothDevice>();
  const read = (): Partial<Record<Segment, string>> => {
    try {
      const from: unknown = JSON.parse(open().getItem(KEY) ?? '{}');
      const entries = Object.entries(from ?? {}).filter(
        ([segment, id]) => SEGMENTS.some((known) => known === segment) && typeof id === 'string',
      );
      return Object.fromEntries(entries);
    } catch {
      return {};
    }
  };
  const write = (places: Partial<Record<Segment, string>>): void => {
    try {
      open().setItem(KEY, JSON.stringify(places));
    } catch {
      // The coach chooses again next time.
    }
  };
  return {
    deviceId: (segment) => read()[segment] ?? null,
    device: (segment) => chosen.get(segment) ?? null,
    keep: (segment, device) => {
      // One sensor has one place.
      for (const [other, { id }] of chosen) if (id === device.id) chosen.delete(other);
      chosen.set(segment, device);
      const others = Object.entries(read()).filter(([, id]) => id !== device.id);
      write({ ...Object.fromEntries(others), [segment]: device.id });
    },
    drop: (segment) => {
      chosen.delete(segment);
      const { [segment]: _dropped, ...others } = read();
      write(others);
    },
  };
}
