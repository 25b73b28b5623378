import type { Page } from 'playwright-core';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { simulateSensors } from '../../src/core/simulator/simulate-session.ts';
import { sessionOptions } from '../../src/devices/simulated-player.ts';
import { createSimulatedTransport } from '../../src/devices/simulated-transport.ts';

/** What the form of the simulated player starts with. */
const FIRST_CHOICE = { implement: 'short', ball: 'training', strategy: 'distal' } as const;
const HEAD = { setId: 'again', startedAtMs: 0, programVersion: 'test' };

/** Makes every simulated set that this page starts follow from one seed. */
export async function fixSeed(page: Page, seed: number): Promise<void> {
  await page.addInitScript((fixed) => {
    const original = crypto.getRandomValues.bind(crypto);
    crypto.getRandomValues = <T extends ArrayBufferView>(into: T): T => {
      if (into instanceof Uint32Array && into.length === 1) return into.fill(fixed) as typeof into;
      return original(into as never);
    };
  }, seed);
}

/** Counts what the page hands to its worker: `sentUs` is the host time of the newest record. */
export async function watchSending(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const post = Worker.prototype.postMessage;
    Worker.prototype.postMessage = function (message: unknown, ...rest: unknown[]) {
      const { records } = message as { records?: { hostTimeUs: number }[] };
      const newest = records?.at(-1);
      if (newest !== undefined) Reflect.set(window, 'sentUs', newest.hostTimeUs);
      return Reflect.apply(post, this, [message, ...rest]);
    };
  });
}

/** Host time of the newest record handed to the worker, microseconds; 0 when none was. */
export function sentUs(page: Page): Promise<number> {
  return page.evaluate(() => Number(Reflect.get(window, 'sentUs') ?? 0));
}

/**
 * What the app's simulated player sends for a seed up to a host time.
 * That it does not depend on how time is cut: tests/devices/simulated-transport.test.ts.
 */
export async function recordsOfSeed(seed: number, untilUs: number): Promise<SetRecord[]> {
  const transport = createSimulatedTransport({
    options: sessionOptions(FIRST_CHOICE, seed),
    speed: 200,
    head: HEAD,
  });
  const records: SetRecord[] = [];
  const subscription = transport.records$.subscribe((record) => records.push(record));
  transport.startTimeline();
  while (transport.nowUs() < untilUs) await new Promise((resolve) => setTimeout(resolve, 20));
  subscription.unsubscribe();
  await transport.close();
  return records.filter(({ hostTimeUs }) => hostTimeUs <= untilUs);
}

/** How many balls the player of a seed has truly struck by a host time. */
export function contactsOfSeed(seed: number, untilUs: number): number {
  const { swings } = simulateSensors(sessionOptions(FIRST_CHOICE, seed), HEAD);
  return swings.filter(({ contactTimeUs }) => contactTimeUs <= untilUs).length;
}
