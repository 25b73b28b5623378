import type { SetSummary } from '../../worker/contract.ts';
import { hashOf } from '../route.ts';
import { kitWords, swingWords } from './set-words.ts';

interface Props {
  readonly set: SetSummary;
  readonly onSave: (setId: string) => void;
}

/** One stored set. */
export function SetLine({ set, onSave }: Props) {
  return (
    <li class="set-line">
      <a href={hashOf({ screen: 'set', setId: set.setId })}>
        <b>
          {set.player}, {swingWords(set.swings)}
        </b>
        <span>{kitWords(set)}</span>
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
        onClick={() => onSave(set.setId)}
      >
        Save file
      </button>
    </li>
  );
}

// Made once: a formatter for each of 500 lines would take longer than all the rest.
const START_FORMAT = new Intl.DateTimeFormat(undefined, {
  dateStyle: 'medium',
  timeStyle: 'short',
});

function formatStart(startedAtMs: number): string {
  return START_FORMAT.format(startedAtMs);
}
