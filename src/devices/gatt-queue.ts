import { LinkEnded, LinkTimeout } from './connection-failure.ts';

/** Runs one GATT operation after those before it. */
export type RunGatt = <T>(operation: () => Promise<T>) => Promise<T>;

/**
 * One GATT operation at a time for one connection: parallel ones fail on several systems. An operation that
 * fails or never settles does not hold up the next.
 */
export class GattQueue {
  #last: Promise<unknown> = Promise.resolve();
  #isEnded = false;
  /** Rejects the operation that is running. */
  #giveUp: (reason: Error) => void = () => {};

  /**
   * Runs an operation after all earlier ones.
   * @param limitMs it is given up after this
   * @throws LinkTimeout, LinkEnded, or what the operation throws
   */
  run<T>(limitMs: number, operation: () => Promise<T>): Promise<T> {
    const result = this.#last.then(() => this.#within(limitMs, operation));
    this.#last = result.catch(() => {
      // The caller hears of it.
    });
    return result;
  }

  /** The connection is gone: what runs, waits or comes later is rejected at once. */
  end(): void {
    this.#isEnded = true;
    this.#giveUp(new LinkEnded());
  }

  async #within<T>(limitMs: number, operation: () => Promise<T>): Promise<T> {
    if (this.#isEnded) throw new LinkEnded();
    let timer: ReturnType<typeof setTimeout> | undefined;
    const givenUp = new Promise<never>((_resolve, reject) => {
      this.#giveUp = reject;
      timer = setTimeout(() => reject(new LinkTimeout()), limitMs);
    });
    try {
      return await Promise.race([operation(), givenUp]);
    } finally {
      clearTimeout(timer);
    }
  }
}
