import { BENCH, simulateBench } from '../core/simulator/simulated-bench.ts';
import { SWINGING_RACKET, simulateSwings } from '../core/simulator/swinging-implement.ts';
import { createSimulatedBenchTransport } from './simulated-bench-transport.ts';
import type { Transport } from './transport.ts';

/** No part has it: whoever sees the calibration of such a sensor knows that it is none. */
const DEMO_SERIAL = '51a000000000be00';
/** All 26 sides of the sensor, each once. */
const POSITIONS = 26;
const FIRST_REST_S = 22;

/**
 * A simulated sensor that is calibrated, or that times a swinging racket, for those who have none.
 * @param seed of its errors @param speed simulated seconds per second
 */
export function createDemoBench(
  purpose: 'calibration' | 'swings',
  seed: number,
  speed: number,
): Transport {
  const recording =
    purpose === 'swings'
      ? simulateSwings({ ...SWINGING_RACKET, seed })
      : simulateBench({ ...BENCH, seed, rests: POSITIONS, initialRestS: FIRST_REST_S }).recording;
  return createSimulatedBenchTransport({ recording, serial: DEMO_SERIAL, speed });
}
