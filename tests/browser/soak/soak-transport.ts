import {
  createSimulatedTransport as createTransport,
  type SimulatedSet,
  type SimulatedTransport,
} from '../../../src/devices/simulated-transport.ts';
import { airOfPage } from './air-plan.ts';

/** In place of the app's own: seed, length, speed and losses are those of the soak; the page can tell how far it is. */
export function createSimulatedTransport(set: SimulatedSet): SimulatedTransport {
  const { seed, swings, speed, lossFraction } = airOfPage();
  const errors = { ...set.options.errors, lossFraction };
  const transport = createTransport({
    ...set,
    speed,
    options: { ...set.options, seed, swings, errors },
  });
  // The soak must not keep alive what the app has let go.
  const weak = new WeakRef(transport);
  Reflect.set(window, 'soakRunning', {
    setId: set.head.setId,
    nowUs: () => weak.deref()?.nowUs() ?? null,
  });
  return transport;
}
