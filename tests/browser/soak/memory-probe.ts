import { readFile } from 'node:fs/promises';
import type { CDPSession, Page } from 'playwright-core';

/** What the app holds at one time, after all garbage was collected. */
export interface Held {
  /** JavaScript heap with the array buffers behind it, bytes. */
  readonly pageBytes: number;
  readonly workerBytes: number;
  readonly nodes: number;
  readonly listeners: number;
  /** Resident memory of all processes of the browser, bytes. */
  readonly residentBytes: number;
}

interface HeapUsage {
  readonly usedSize: number;
  readonly backingStorageSize: number;
}

const ANSWER_MS = 30_000;

/** Asks a page and its set worker through the browser's own debugging protocol. */
export class MemoryProbe {
  readonly #page: CDPSession;
  readonly #browser: CDPSession;
  /** Debugging session of the set worker that is there now. */
  #workerSession: string | null = null;
  #nextId = 1;
  readonly #waiting = new Map<number, (result: unknown) => void>();

  private constructor(page: CDPSession, browser: CDPSession) {
    this.#page = page;
    this.#browser = browser;
    page.on('Target.attachedToTarget', ({ sessionId, targetInfo }) => {
      if (targetInfo.type === 'worker') this.#workerSession = sessionId;
    });
    page.on('Target.receivedMessageFromTarget', ({ message }) => {
      const { id, result } = JSON.parse(message) as { id?: number; result?: unknown };
      if (id === undefined) return;
      this.#waiting.get(id)?.(result);
      this.#waiting.delete(id);
    });
  }

  static async of(page: Page): Promise<MemoryProbe> {
    const browser = page.context().browser();
    if (browser === null) throw new Error('a page without a browser');
    const probe = new MemoryProbe(
      await page.context().newCDPSession(page),
      await browser.newBrowserCDPSession(),
    );
    const follow = { autoAttach: true, waitForDebuggerOnStart: false, flatten: false };
    await probe.#page.send('Target.setAutoAttach', follow);
    return probe;
  }

  async held(): Promise<Held> {
    await this.#page.send('HeapProfiler.collectGarbage');
    await this.#ofWorker('HeapProfiler.collectGarbage');
    const page = await this.#page.send('Runtime.getHeapUsage');
    const worker = (await this.#ofWorker('Runtime.getHeapUsage')) as HeapUsage;
    const { nodes, jsEventListeners } = await this.#page.send('Memory.getDOMCounters');
    return {
      pageBytes: page.usedSize + page.backingStorageSize,
      workerBytes: worker.usedSize + worker.backingStorageSize,
      nodes,
      listeners: jsEventListeners,
      residentBytes: await this.#resident(),
    };
  }

  async #ofWorker(method: string): Promise<unknown> {
    const sessionId = this.#workerSession;
    if (sessionId === null) throw new Error('the page has no worker');
    const id = this.#nextId++;
    const answer = new Promise((resolve, reject) => {
      this.#waiting.set(id, resolve);
      setTimeout(() => reject(new Error(`the worker did not answer ${method}`)), ANSWER_MS).unref();
    });
    const message = JSON.stringify({ id, method });
    await this.#page.send('Target.sendMessageToTarget', { sessionId, message });
    return answer;
  }

  /** From Linux's own books; 0 where there are none. */
  async #resident(): Promise<number> {
    const { processInfo } = await this.#browser.send('SystemInfo.getProcessInfo');
    const status = await Promise.all(
      processInfo.map(({ id }) => readFile(`/proc/${id}/status`, 'utf8').catch(() => '')),
    );
    const kB = status.map((text) => Number(/VmRSS:\s+(\d+)/.exec(text)?.[1] ?? 0));
    return 1024 * kB.reduce((sum, one) => sum + one, 0);
  }
}
