import { type ReadonlySignal, signal } from '@preact/signals';
import type { SensorPlaces } from '../../devices/sensor-places.ts';
import type { ConnectionState, Transport } from '../../devices/transport.ts';
import type { WorkerClient } from '../worker-client.ts';

/** Where the one sensor at the bench comes from. */
export type BenchSource = 'bluetooth' | 'simulated';

/** The link to one sensor that is at the bench, or on a swinging implement. */
export interface BenchLink {
  readonly state: ReadonlySignal<ConnectionState>;
  /** Where the sensor comes from; null while there is none. */
  readonly source: ReadonlySignal<BenchSource | null>;
  /** From a tap: the browser shows its chooser only then. What another sensor sent is forgotten. */
  connect(source: BenchSource): void;
  /** What the sensor sent so far is forgotten; it goes on. */
  restart(): void;
  close(): void;
}

/** The name under which the link knows the one sensor. */
const PLACE = 'implement';

/** The places of the sensors on the arm are none of the bench's business. */
export const NO_PLACES: SensorPlaces = {
  deviceId: () => null,
  device: () => null,
  keep: () => {},
  drop: () => {},
};

/** Makes a link that is not connected yet. @param open gives a fresh transport */
export function createBenchLink(
  client: WorkerClient,
  purpose: 'calibration' | 'swings',
  open: (source: BenchSource) => Transport,
): BenchLink {
  const state = signal<ConnectionState>({ state: 'absent' });
  let transport: Transport | null = null;
  const openedFrom = signal<BenchSource | null>(null);
  const close = (): void => {
    void transport?.close();
    transport = null;
    openedFrom.value = null;
    state.value = { state: 'absent' };
  };
  const begin = (): void => client.post({ type: 'bench-begin', purpose });
  return {
    state,
    source: openedFrom,
    restart: begin,
    connect: (source) => {
      if (openedFrom.value !== source) {
        close();
        begin();
        const opened = open(source);
        transport = opened;
        openedFrom.value = source;
        opened.connections$.subscribe((all) => {
          if (transport === opened) state.value = all[PLACE];
        });
        opened.records$.subscribe((record) => {
          if (transport === opened) client.post({ type: 'bench-append', records: [record] });
        });
        opened.startTimeline();
      }
      void transport?.connect(PLACE);
    },
    close: () => {
      close();
      client.post({ type: 'bench-over' });
    },
  };
}
