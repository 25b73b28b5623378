import { Subject } from 'rxjs';
import type { WorkerClient } from '../../src/screens/worker-client.ts';
import type { FromWorker, ToKitDesk, ToWorker } from '../../src/worker/contract.ts';

/** The worker's side of a screen's model: what was asked, and a way to answer. */
export function fakeClient() {
  const messages = new Subject<FromWorker>();
  const asked: (ToWorker | ToKitDesk)[] = [];
  const client: WorkerClient = {
    messages$: messages,
    post: (message) => asked.push(message),
    append: () => {
      throw new Error('no set is running');
    },
  };
  return { client, asked, answer: (message: FromWorker) => messages.next(message) };
}
