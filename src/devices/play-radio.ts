import type { SimulatedRadio } from './simulated-radio.ts';

/** Between two looks at the clock. Only what is simulated may depend on a timer: nothing real waits for it. */
const TICK_MS = 16;
/** Longest simulating in one tick, so that the screen stays responsive; the clock waits when it is not enough. */
const BUDGET_MS = 12;
/** A longer pause (hidden tab, sleeping phone) stops the simulation instead of being caught up. */
const LONGEST_STEP_MS = 250;

/**
 * Carries the time of the simulation on with the clock on the wall.
 * @param speed simulated seconds per second
 * @returns stops it
 */
export function playRadio(radio: SimulatedRadio, speed: number): () => void {
  let lastTickMs = performance.now();
  let isAdvancing = false;
  const tick = async (): Promise<void> => {
    if (isAdvancing) return;
    isAdvancing = true;
    const startedMs = performance.now();
    const stepMs = Math.min(startedMs - lastTickMs, LONGEST_STEP_MS);
    lastTickMs = startedMs;
    try {
      await radio.advance(
        radio.nowUs() + stepMs * 1000 * speed,
        () => performance.now() - startedMs > BUDGET_MS,
      );
    } finally {
      isAdvancing = false;
    }
  };
  const timer = setInterval(() => void tick(), TICK_MS);
  return () => clearInterval(timer);
}
