import { createDemoBench } from '../../devices/demo-bench.ts';
import type { Transport } from '../../devices/transport.ts';
import { createWebBluetoothTransport } from '../../devices/web-bluetooth-transport.ts';
import { type BenchSource, NO_PLACES } from './bench-link.ts';

/** Simulated seconds per second: nobody wants to watch the real two minutes. */
const DEMO_SPEED = 8;

/** A fresh transport for one sensor: by radio, or simulated. */
export function openBench(purpose: 'calibration' | 'swings', source: BenchSource): Transport {
  if (source === 'bluetooth') return createWebBluetoothTransport(navigator.bluetooth, NO_PLACES);
  const seed = crypto.getRandomValues(new Uint32Array(1))[0] ?? 1;
  return createDemoBench(purpose, seed, DEMO_SPEED);
}
