import { LinkTimeout } from './connection-failure.ts';

/**
 * One GATT operation at a time: parallel ones fail on several systems. An operation that fails or never
 * settles does not hold up the next.
 */
export class GattQueue {
  #last: Promise<unknown> = Promise.resolve();

  /**
   * Runs an operation after all earlier ones.
   * @param limitMs it is given up after this
   * @throws LinkTimeout, or what the operation throws
   */
  run<T>(limitMs: number, operation: () => Promise<T>): Promise<T> {
    const result = this.#last.then(() => within(limitMs, operation()));
    this.#last = result.catch(() => {
      // The caller hears of it.
    });
    return result;
  }
}

/** The operation's result, or a {@link LinkTimeout} when it takes too long. */
async function within<T>(limitMs: number, operation: Promise<T>): Promise<T> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<never>((_resolve, reject) => {
    timer = setTimeout(() => reject(new LinkTimeout()), limitMs);
  });
  try {
    return await Promise.race([operation, late]);
  } finally {
    clearTimeout(timer);
  }
}
