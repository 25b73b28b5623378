import { hashOf } from '../route.ts';
import type { StartModel } from './start-model.ts';

/** Stored sets, newest first: each opens, and can be saved as a file. */
export function SetList({ model }: { readonly model: StartModel }) {
  const sets = model.sets.value;
  return (
    <section class="sets">
      <h2>Recent sets</h2>
      {sets === null && <p class="soft">Looking…</p>}
      {sets?.length === 0 && (
        <p class="soft">None yet. Sets stay on this device and go nowhere else.</p>
      )}
      {sets !== null && sets.length > 0 && (
        <ul>
          {sets.map((set) => (
            <li key={set.setId} class="set-line">
              <a href={hashOf({ screen: 'set', setId: set.setId })}>
                <b>
                  {set.player}, {swingWords(set.swings)}
                </b>
                <span>
                  {set.implement}, {set.ball}
                </span>
                <span class="soft">
                  {formatStart(set.startedAtMs)}
                  {set.source === 'simulated' ? ', simulated' : ''}
                </span>
                {set.isInMemoryOnly === true && (
                  <b class="notice">In memory only: save its file before you close this page.</b>
                )}
              </a>
              <button
                type="button"
                aria-label={`Save file of the set of ${formatStart(set.startedAtMs)}`}
                onClick={() => model.save(set.setId)}
              >
                Save file
              </button>
            </li>
          ))}
        </ul>
      )}
      <nav class="sets-more">
        <a class="button" href={hashOf({ screen: 'storage' })}>
          Storage
        </a>
        <a class="button" href={hashOf({ screen: 'import' })}>
          Table from other sensors
        </a>
      </nav>
    </section>
  );
}

function swingWords(swings: number): string {
  return swings === 1 ? '1 swing' : `${swings} swings`;
}

function formatStart(startedAtMs: number): string {
  return new Date(startedAtMs).toLocaleString(undefined, {
    dateStyle: 'medium',
    timeStyle: 'short',
  });
}
