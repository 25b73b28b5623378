import { useState } from 'preact/hooks';
import type { CourtModel } from './court-model.ts';
import '../controls/fields.css';

/** What a coach most often wants to remember: a tap each. */
const READY_NOTES = ['Tired', 'Distracted', 'Grip changed', 'Feed was off', 'Pain: stopped'];

interface Props {
  readonly model: CourtModel;
  readonly onDone: () => void;
}

/** A note on the set at this instant. */
export function NotePanel({ model, onDone }: Props) {
  const [text, setText] = useState('');
  const write = (words: string): void => {
    if (words.trim() !== '') model.note(words.trim());
    onDone();
  };
  return (
    <section class="panel" aria-label="Note">
      <form
        class="panel-note"
        onSubmit={(event) => {
          event.preventDefault();
          write(text);
        }}
      >
        <label class="field">
          <span class="out-of-sight">Note</span>
          <input
            value={text}
            maxLength={500}
            placeholder="Note; no real names"
            onInput={(event) => setText(event.currentTarget.value)}
          />
        </label>
        <button type="submit" class="primary">
          Keep
        </button>
        <button type="button" onClick={onDone}>
          Back
        </button>
      </form>
      <div class="panel-grid">
        {READY_NOTES.map((words) => (
          <button key={words} type="button" onClick={() => write(words)}>
            {words}
          </button>
        ))}
      </div>
    </section>
  );
}
