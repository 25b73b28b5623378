import { useState } from 'preact/hooks';
import { isSameImplement } from '../../core/recording/conditions.ts';
import type { Condition } from '../../core/recording/set-record.ts';
import { conditionWords } from './block-progress.ts';
import type { CourtModel } from './court-model.ts';

interface Props {
  readonly model: CourtModel;
  readonly onBegun: () => void;
  /** Goes on with the running block. */
  readonly onMore: () => void;
  readonly onEnd: () => void;
}

/** Between two blocks: what comes next, what to look at first, and one button. */
export function NextBlock({ model, onBegun, onMore, onEnd }: Props) {
  const { block, condition, swings, next } = model.progress.value;
  const conditions = model.description.plan?.conditions ?? [];
  const [chosen, setChosen] = useState<Condition | null>(null);
  const wanted = chosen ?? next;
  if (wanted === null) {
    return (
      <section class="panel" aria-label="Set complete">
        <h2>All blocks are done</h2>
        <p>{swings} swings in the last one. Score the last ball, then finish.</p>
        <div class="panel-buttons">
          <button type="button" onClick={onMore}>
            More swings
          </button>
          <button type="button" class="primary" onClick={onEnd}>
            Finish the set
          </button>
        </div>
      </section>
    );
  }
  const begin = (): void => {
    model.beginBlock(wanted);
    onBegun();
  };
  return (
    <section class="panel" aria-label="Next block">
      <h2>Next: block {block + 2}</h2>
      <label class="panel-next">
        <span class="out-of-sight">Kit of the next block</span>
        <select
          value={String(conditions.indexOf(wanted))}
          onChange={(event) => setChosen(conditions[Number(event.currentTarget.value)] ?? null)}
        >
          {conditions.map((one, at) => (
            <option key={conditionWords(one)} value={String(at)}>
              {conditionWords(one)}
            </option>
          ))}
        </select>
      </label>
      <p class="panel-care">
        {isSameImplement(condition, wanted) ? '' : 'Move the sensor to the other implement. '}
        Check every fastening. Is everyone clear of the player? On any pain, stop.
      </p>
      <div class="panel-buttons">
        <button type="button" onClick={onMore}>
          More swings first
        </button>
        <button type="button" class="primary" onClick={begin}>
          Begin block {block + 2}
        </button>
      </div>
    </section>
  );
}
