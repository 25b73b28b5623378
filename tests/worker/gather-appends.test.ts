import { expect, it } from 'vitest';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import type { ToWorker } from '../../src/worker/contract.ts';
import { gatherAppends } from '../../src/worker/gather-appends.ts';

const append = (...timesUs: number[]): ToWorker => ({
  type: 'append',
  records: timesUs.map(
    (hostTimeUs): SetRecord => ({ kind: 'event', hostTimeUs, event: { type: 'zero-requested' } }),
  ),
});

it('joins records that wait together, in order, around other messages', () => {
  const handled: ToWorker[] = [];
  const turns: (() => void)[] = [];
  const take = gatherAppends(
    (message) => handled.push(message),
    (act) => turns.push(act),
  );
  take(append(1));
  take(append(2, 3));
  take({ type: 'live-drawn' });
  take(append(4));
  take({ type: 'end-set' });
  take({ type: 'end-set' });
  expect(handled).toEqual([]);
  expect(turns).toHaveLength(1);
  turns.shift()!();
  expect(handled).toEqual([
    append(1, 2, 3),
    { type: 'live-drawn' },
    append(4),
    { type: 'end-set' },
    { type: 'end-set' },
  ]);
  take(append(5));
  expect(turns).toHaveLength(1);
  turns.shift()!();
  expect(handled.at(-1)).toEqual(append(5));
});
