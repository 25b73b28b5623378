import { vi } from 'vitest';
import type { Transport } from '../../src/devices/transport.ts';

/** With faked timers: lets so many ticks pass, each for the most part simulated. The transport cuts ticks at 250 ms: stay below. */
export async function turn(transport: Transport, ticks: number, tickMs = 48): Promise<void> {
  for (let i = 0; i < ticks; i++) {
    const before = transport.nowUs();
    vi.advanceTimersByTime(tickMs);
    // A tick that comes while the last one is still being simulated is left out: do not wait for it.
    for (let n = 0; n < 50 && transport.nowUs() === before; n++) {
      await new Promise((resolve) => setImmediate(resolve));
    }
  }
}
