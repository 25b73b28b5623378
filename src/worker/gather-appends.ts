import type { ToWorker } from './contract.ts';

/**
 * Joins records that have arrived while the worker was busy: writing to storage costs the same for one record
 * as for twenty. Nothing is held back by time and the order of messages stays.
 * @param handle takes one message, after all earlier ones
 * @param afterArrived runs its argument when everything that has arrived by now was received
 * @returns takes messages as they arrive
 */
export function gatherAppends(
  handle: (message: ToWorker) => void,
  afterArrived: (act: () => void) => void,
): (message: ToWorker) => void {
  let arrived: ToWorker[] = [];
  const handOn = (): void => {
    const messages = arrived;
    arrived = [];
    for (let i = 0; i < messages.length; ) {
      const message = messages[i++]!;
      if (message.type !== 'append') {
        handle(message);
        continue;
      }
      const records = [...message.records];
      for (let next = messages[i]; next?.type === 'append'; next = messages[++i]) {
        records.push(...next.records);
      }
      handle({ type: 'append', records });
    }
  };
  return (message) => {
    if (arrived.length === 0) afterArrived(handOn);
    arrived.push(message);
  };
}
