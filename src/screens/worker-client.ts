import type { Observable } from 'rxjs';
import { Subject } from 'rxjs';
import type { SetRecord } from '../core/recording/set-record.ts';
import type { FromWorker, ToKitDesk, ToWorker } from '../worker/contract.ts';

/** The worker as the screens see it: one typed way in, one typed way out. */
export interface WorkerClient {
  /** Hot: subscribe before asking. */
  readonly messages$: Observable<FromWorker>;
  post(message: ToWorker | ToKitDesk): void;
  /** Hands a record over for recording. Its byte buffer moves to the worker and is empty here afterwards. */
  append(record: SetRecord): void;
}

/** Starts the set worker. One per page: it owns the storage. */
export function startWorkerClient(): WorkerClient {
  const worker = new Worker(new URL('../worker/set-worker.ts', import.meta.url), {
    type: 'module',
  });
  const messages = new Subject<FromWorker>();
  worker.addEventListener('message', (event: MessageEvent<FromWorker>) =>
    messages.next(event.data),
  );
  const failed = (): void =>
    messages.next({
      type: 'trouble',
      trouble: {
        code: 'unexpected',
        message:
          'The part of the program that records has stopped. Reload the page; what was saved stays saved.',
      },
    });
  worker.addEventListener('error', failed);
  worker.addEventListener('messageerror', failed);

  // Records of one task travel together, still without waiting for any timer.
  let queue: SetRecord[] = [];
  const flush = (): void => {
    if (queue.length === 0) return;
    const message: ToWorker = { type: 'append', records: queue };
    queue = [];
    worker.postMessage(message, transferableBuffers(message.records));
  };
  return {
    messages$: messages.asObservable(),
    post: (message) => {
      flush();
      worker.postMessage(message);
    },
    append: (record) => {
      if (queue.length === 0) queueMicrotask(flush);
      queue.push(record);
    },
  };
}

/** Each buffer once: naming one twice makes postMessage throw. */
function transferableBuffers(records: readonly SetRecord[]): ArrayBuffer[] {
  const buffers = new Set<ArrayBuffer>();
  for (const record of records) {
    if (record.kind !== 'event' && record.bytes.buffer instanceof ArrayBuffer) {
      buffers.add(record.bytes.buffer);
    }
  }
  return [...buffers];
}
