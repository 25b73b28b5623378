import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import type { LiveView } from '../../src/core/pipeline/outputs.ts';
import { readSet } from '../../src/core/recording/set-reader.ts';
import type { StoredFile } from '../../src/storage/set-files.ts';
import type { FromWorker, SetSummary } from '../../src/worker/contract.ts';
import type { SetPipeline, SetStorage } from '../../src/worker/set-ports.ts';
import { SetSession } from '../../src/worker/set-session.ts';
import { mutate } from '../recording/fuzz-mutations.ts';
import { setFile } from '../recording/sample-set.ts';

const FILES = 10_000;
const SEED = 20_261;

/** Storage in memory; nothing here fails, so that whatever goes wrong comes from the file. */
function emptyStorage(files: Map<string, Uint8Array>): SetStorage {
  const nothing = async () => {};
  return {
    create: async (setId) => ({
      append: (bytes) => files.set(setId, Uint8Array.from(bytes)),
      flush: () => {},
      read: () => files.get(setId)!,
      close: () => {},
    }),
    read: async (setId) => files.get(setId)!,
    changeTail: nothing,
    remove: async (setId) => void files.delete(setId),
    list: async (summarise: (file: StoredFile) => Promise<SetSummary | null>) => {
      const rows = [...files].map(([setId, { length }]) => summarise({ setId, sizeBytes: length }));
      return (await Promise.all(rows)).filter((row) => row !== null);
    },
    remember: nothing,
    keepState: nothing,
    keptState: async () => undefined,
    library: async () => ({ players: [], implements: [], balls: [] }),
    learn: nothing,
    keepPlayer: nothing,
    forgetPlayer: nothing,
  };
}

/** What files hold is read; what swings are in them is for tests/recording/fuzz.test.ts. */
const countingPipeline: SetPipeline = {
  build: 'test',
  resume: () => {
    throw new Error('nothing was kept');
  },
  start: () => ({
    finished: () => null,
    step: () => {},
    view: () => ({ swings: [], blocks: [] }) as unknown as LiveView,
    review: () => ({ swings: [], blocks: [] }) as unknown as LiveView,
    measures: () => [],
    swingsLike: () => [],
    trace: () => null,
  }),
};

it(`importing ${FILES} mutated and hostile files stores those that can be read, as they are, and nothing else`, {
  timeout: 120_000,
}, async () => {
  const demo = readSet(readFileSync('recorded-streams/player-a-short-racket.mcap'));
  if (!demo.ok) throw new Error(demo.error.message);
  const base = setFile(demo.set.records.slice(0, 40), demo.set.description);
  const seen = { stored: 0, refused: 0 };
  const wrong: string[] = [];
  for (let i = 0; i < FILES; i++) {
    const { bytes } = mutate(base, seededRandom(SEED + i));
    const files = new Map<string, Uint8Array>();
    const posted: FromWorker[] = [];
    const session = new SetSession(
      (message) => posted.push(message),
      emptyStorage(files),
      countingPipeline,
    );
    const file = new File([Uint8Array.from(bytes)], '<img src=x onerror=alert(1)>.mcap');
    await session.receive({ type: 'import-files', files: [file] });
    const imported = posted.find((message) => message.type === 'imported');
    const result = readSet(bytes);
    const isStored = result.ok && files.size === 1;
    seen[isStored ? 'stored' : 'refused'] += 1;
    if (result.ok) {
      const kept = files.get(result.set.description.setId);
      if (kept === undefined || Buffer.compare(kept, bytes) !== 0) wrong.push(`${i}: changed`);
      if (imported?.stored !== 1) wrong.push(`${i}: not counted`);
    } else {
      if (files.size > 0) wrong.push(`${i}: stored what cannot be read`);
      if (imported?.refused[0]?.reason !== result.error.message) wrong.push(`${i}: no reason`);
    }
    if (posted.some((message) => message.type === 'trouble')) wrong.push(`${i}: trouble`);
  }
  expect(wrong).toEqual([]);
  expect(Math.min(seen.stored, seen.refused)).toBeGreaterThan(FILES / 10);
});
