import { useEffect, useMemo } from 'preact/hooks';
import { ConfirmButton } from '../controls/ConfirmButton.tsx';
import { hashOf } from '../route.ts';
import { runningSet } from '../running-set.ts';
import type { WorkerClient } from '../worker-client.ts';
import {
  createStorageModel,
  type Outcome,
  type StorageModel,
  type StorageSpace,
  type StoredPlayer,
  setWords,
} from './storage-model.ts';
import './storage.css';

/** What is on this device, how it leaves it, and how it goes for good. */
export function StorageScreen({ client }: { readonly client: WorkerClient }) {
  const model = useMemo(
    // typed as always there; missing in some private windows
    () => createStorageModel(client, navigator.storage as StorageManager | undefined),
    [client],
  );
  useEffect(() => model.dispose, [model]);
  const isRunning = runningSet.value !== null;
  const isStill = !model.isBusy.value && !isRunning;
  return (
    <main class="page storage">
      <header class="storage-head">
        <a class="button" href={hashOf({ screen: 'start' })}>
          Back
        </a>
        <h1>Storage</h1>
      </header>
      {isRunning && (
        <p class="notice" role="alert">
          A set is running. End it before anything is brought in, saved or deleted here.
        </p>
      )}
      <Messages model={model} />
      <Space space={model.space.value} onKeep={model.keep} />
      <section class="storage-part">
        <h2>Save everything</h2>
        <p>
          All sets in one archive, to keep elsewhere or to bring into another device. Clearing the
          browser's data deletes what is here.
        </p>
        <button type="button" class="primary" disabled={!isStill} onClick={model.saveAll}>
          Save everything
        </button>
      </section>
      <section class="storage-part">
        <h2>Bring in</h2>
        <p>Set files (.mcap) and archives saved here. Each is checked before it is stored.</p>
        <label class={isStill ? 'button' : 'button storage-off'}>
          Choose files
          <input
            type="file"
            class="out-of-sight"
            accept=".mcap,.zip"
            multiple
            disabled={!isStill}
            onChange={(event) => {
              const { files } = event.currentTarget;
              if (files !== null && files.length > 0) model.bringIn([...files]);
              // the same file can be chosen again
              event.currentTarget.value = '';
            }}
          />
        </label>
        <a class="button" href={hashOf({ screen: 'import' })}>
          Table from other sensors
        </a>
      </section>
      <Players players={model.players.value} isStill={isStill} onDelete={model.deletePlayer} />
    </main>
  );
}

function Messages({ model }: { readonly model: StorageModel }) {
  const trouble = model.trouble.value;
  const outcome = model.outcome.value;
  return (
    <>
      {trouble !== null && (
        <p class="notice" role="alert">
          {trouble}
        </p>
      )}
      <div role="status">
        {model.isBusy.value && <p class="soft">Working…</p>}
        {outcome !== null && <What outcome={outcome} />}
      </div>
    </>
  );
}

function What({ outcome: { words, refused } }: { readonly outcome: Outcome }) {
  return (
    <div class="storage-outcome">
      <p>
        <b>{words}</b>
      </p>
      {refused.length > 0 && (
        <ul>
          {refused.map(({ fileName, reason }) => (
            <li key={fileName}>
              <b>{fileName}</b>: {reason}
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

function Space({
  space,
  onKeep,
}: {
  readonly space: StorageSpace | null;
  readonly onKeep: () => void;
}) {
  if (space === null) return <p class="soft">This browser does not say how much space there is.</p>;
  const { usedBytes, quotaBytes, isKept } = space;
  return (
    <section class="storage-part">
      <h2>Space</h2>
      <meter
        class="storage-meter"
        min={0}
        max={quotaBytes}
        high={0.8 * quotaBytes}
        value={usedBytes}
        aria-label="Space used on this device"
      />
      <p>
        {bytesWords(usedBytes)} used of {bytesWords(quotaBytes)} this browser would give.
      </p>
      {isKept ? (
        <p>The browser keeps these files until you delete them.</p>
      ) : (
        <>
          <p>
            The browser may clear these files when the device runs out of space. It can be asked to
            keep them.
          </p>
          <button type="button" onClick={onKeep}>
            Ask to keep them
          </button>
        </>
      )}
    </section>
  );
}

function Players({
  players,
  isStill,
  onDelete,
}: {
  readonly players: readonly StoredPlayer[] | null;
  readonly isStill: boolean;
  readonly onDelete: (player: string) => void;
}) {
  return (
    <section class="storage-part">
      <h2>Delete a player's data</h2>
      <p>
        Every set of that player, for good. Nobody can bring it back, unless it was saved before.
      </p>
      {players === null && <p class="soft">Looking…</p>}
      {players?.length === 0 && <p class="soft">No sets are stored.</p>}
      <ul class="storage-players">
        {players?.map(({ player, sets, bytes }) => (
          <li key={player}>
            <span>
              <b>{player}</b>
              <span class="soft">
                {setWords(sets)}, {bytesWords(bytes)}
              </span>
            </span>
            {isStill ? (
              <ConfirmButton
                label="Delete"
                question={`Delete ${setWords(sets)}?`}
                about={player}
                onConfirm={() => onDelete(player)}
              />
            ) : (
              <button type="button" disabled>
                Delete
              </button>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

function bytesWords(bytes: number): string {
  if (bytes >= 1e9) return `${(bytes / 1e9).toFixed(1)} GB`;
  return bytes >= 1e5 ? `${(bytes / 1e6).toFixed(1)} MB` : `${Math.ceil(bytes / 1e3)} kB`;
}
