import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { GattQueue } from '../../src/devices/gatt-queue.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

const taking = (ms: number) => () => new Promise<void>((resolve) => setTimeout(resolve, ms));

describe('GattQueue', () => {
  it('runs one operation at a time, in order', async () => {
    const queue = new GattQueue();
    const events: string[] = [];
    let running = 0;
    const operation = (name: string, ms: number) => async () => {
      expect(++running).toBe(1);
      await taking(ms)();
      running--;
      events.push(name);
    };
    void queue.run(1000, operation('slow', 300));
    void queue.run(1000, operation('quick', 1));
    void queue.run(1000, operation('next', 1));
    await vi.advanceTimersByTimeAsync(400);
    expect(events).toEqual(['slow', 'quick', 'next']);
  });

  it('goes on after an operation that fails, throws or never settles', async () => {
    const queue = new GattQueue();
    const failed = queue.run(1000, () => Promise.reject(new Error('no')));
    const threw = queue.run(1000, () => {
      throw new Error('at once');
    });
    const hung = queue.run(1000, () => new Promise(() => {}));
    const fine = queue.run(1000, () => Promise.resolve('fine'));
    const outcomes = Promise.allSettled([failed, threw, hung, fine]);
    await vi.advanceTimersByTimeAsync(1000);
    const results = await outcomes;
    expect(results.map((r) => (r.status === 'fulfilled' ? r.value : r.reason.name))).toEqual([
      'Error',
      'Error',
      'LinkTimeout',
      'fine',
    ]);
  });

  it('counts the time of an operation from its own beginning', async () => {
    const queue = new GattQueue();
    void queue.run(1000, taking(900));
    const second = queue.run(1000, taking(900));
    await vi.advanceTimersByTimeAsync(1900);
    await expect(second).resolves.toBeUndefined();
  });

  it('rejects what runs, waits or comes when the connection ends', async () => {
    const queue = new GattQueue();
    const never = vi.fn(() => Promise.resolve());
    const running = queue.run(1000, () => new Promise(() => {}));
    const waiting = queue.run(1000, never);
    const outcomes = Promise.allSettled([running, waiting]);
    await vi.advanceTimersByTimeAsync(1);
    queue.end();
    const results = [...(await outcomes), ...(await Promise.allSettled([queue.run(9, never)]))];
    expect(results.map((r) => (r.status === 'rejected' ? r.reason.name : 'done'))).toEqual([
      'LinkEnded',
      'LinkEnded',
      'LinkEnded',
    ]);
    expect(never).not.toHaveBeenCalled();
  });
});
