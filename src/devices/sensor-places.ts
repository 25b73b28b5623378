import { SEGMENTS, type Segment } from '../core/arm/segments.ts';

const KEY = 'sensor-places';

/** Which sensor sat on which segment last time, by the browser's own device id. */
export interface SensorPlaces {
  deviceId(segment: Segment): string | null;
  keep(segment: Segment, deviceId: string): void;
  drop(segment: Segment): void;
}

/**
 * Places kept in the browser's storage.
 * @param open gives the storage; may throw, as browsers do where storage is forbidden: nothing is kept then
 */
export function createSensorPlaces(open: () => Storage): SensorPlaces {
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
    keep: (segment, deviceId) => {
      // One sensor has one place.
      const others = Object.entries(read()).filter(([, id]) => id !== deviceId);
      write({ ...Object.fromEntries(others), [segment]: deviceId });
    },
    drop: (segment) => {
      const { [segment]: _dropped, ...others } = read();
      write(others);
    },
  };
}
