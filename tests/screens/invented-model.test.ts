import { signal } from '@preact/signals';
import { describe, expect, it, vi } from 'vitest';
import { createInventedModel } from '../../src/screens/start/invented-model.ts';
import { INVENTED_SETS } from '../../src/screens/start/invented-sets.ts';
import type { FromWorker, SetSummary } from '../../src/worker/contract.ts';
import { fakeClient } from './fake-client.ts';

type Imported = Extract<FromWorker, { type: 'imported' }>;

const rowOf = ({ setId, player }: Pick<SetSummary, 'setId' | 'player'>): SetSummary => ({
  setId,
  player,
  startedAtMs: 0,
  source: 'simulated',
  implement: '',
  ball: '',
  swings: 1,
  sizeBytes: 1,
});

/** A Start screen whose worker answers each import as the test says. */
function started(fetchFile: typeof fetch, answerOf: (fileName: string) => Partial<Imported>) {
  const { client, asked, answer } = fakeClient();
  const sets = signal<readonly SetSummary[] | null>([]);
  const imported: string[] = [];
  const post = client.post;
  client.post = (message) => {
    post(message);
    if (message.type !== 'import-files') return;
    const [file] = message.files;
    imported.push(file!.name);
    const counts = { stored: 1, known: 0, refused: [], ...answerOf(file!.name) };
    const set = INVENTED_SETS.find(({ setId }) => file!.name === `${setId}.mcap`);
    if (counts.stored > 0) sets.value = [...sets.value!, rowOf(set!)];
    queueMicrotask(() => answer({ type: 'imported', ...counts }));
  };
  return { model: createInventedModel(client, sets, fetchFile), sets, imported, asked, answer };
}

const sound: typeof fetch = async () => new Response('bytes');
const done = (model: ReturnType<typeof started>['model']) =>
  vi.waitFor(() => {
    expect(model.progress.value).toBeNull();
    expect(model.outcome.value ?? model.trouble.value).not.toBeNull();
  });

describe('invented players on the Start screen', () => {
  it('are fetched one by one, brought in as files, and linked once all their sets are there', async () => {
    const { model, imported } = started(sound, () => ({}));
    expect(model.here.value).toEqual([]);
    model.bringIn();
    model.bringIn();
    expect(model.progress.value).toEqual({ at: 1, of: 5 });
    await done(model);
    expect(imported).toEqual(INVENTED_SETS.map(({ setId }) => `${setId}.mcap`));
    expect(model.here.value).toEqual([...new Set(INVENTED_SETS.map(({ player }) => player))]);
    expect(model.outcome.value).toBe('5 sets brought in, marked as simulated.');
  });

  it('are fetched no second time, and what is missing alone when one was deleted', async () => {
    const fetched = vi.fn(sound);
    const { model, sets, imported } = started(fetched, () => ({}));
    model.bringIn();
    await done(model);
    model.bringIn();
    await done(model);
    expect(fetched).toHaveBeenCalledTimes(5);
    expect(model.outcome.value).toBe('All of them are here already: nothing was added.');
    sets.value = sets.value!.filter(({ setId }) => setId !== INVENTED_SETS[4]!.setId);
    expect(model.here.value).toHaveLength(2);
    model.bringIn();
    await done(model);
    expect(imported.slice(5)).toEqual([`${INVENTED_SETS[4]!.setId}.mcap`]);
    expect(model.outcome.value).toBe('1 set brought in, marked as simulated.');
  });

  it('say that the network is missing, and can be asked for again', async () => {
    const fetched = vi.fn(sound).mockRejectedValueOnce(new TypeError('Failed to fetch'));
    const { model, imported } = started(fetched, () => ({}));
    model.bringIn();
    await done(model);
    expect(model.trouble.value).toContain('needs the network');
    expect(imported).toEqual([]);
    model.bringIn();
    await done(model);
    expect(model.trouble.value).toBeNull();
    expect(imported).toHaveLength(5);
  });

  it('say what the server or the check of a file says, and stop there', async () => {
    const missing = started(
      async () => new Response('', { status: 404 }),
      () => ({}),
    );
    missing.model.bringIn();
    await done(missing.model);
    expect(missing.model.trouble.value).toContain('player-b-day-1: status 404');
    const refused = [{ fileName: 'player-b-day-1.mcap', reason: 'This is no set file.' }];
    const wrong = started(sound, () => ({ stored: 0, refused }));
    wrong.model.bringIn();
    await done(wrong.model);
    expect(wrong.model.trouble.value).toBe('player-b-day-1.mcap: This is no set file.');
    expect(wrong.imported).toHaveLength(1);
  });

  it('stop when storage fails', async () => {
    const { client, answer } = fakeClient();
    const model = createInventedModel(client, signal([]), sound);
    client.post = () =>
      queueMicrotask(() =>
        answer({ type: 'trouble', trouble: { code: 'storage-full', message: 'No space.' } }),
      );
    model.bringIn();
    await done(model);
    expect(model.trouble.value).toBe('No space.');
  });
});
