import { useEffect } from 'preact/hooks';
import type { SetSummary } from '../../worker/contract.ts';
import { hashOf } from '../route.ts';
import { justEnded } from '../running-set.ts';
import { swingWords } from './set-words.ts';

interface Props {
  /** As the worker lists them; null while nobody knows. */
  readonly sets: readonly SetSummary[] | null;
}

/** Says of the set that has just been ended that it is saved, once the list has it; gone when Start is left. */
export function SavedLine({ sets }: Props) {
  useEffect(
    () => () => {
      justEnded.value = null;
    },
    [],
  );
  const set = sets?.find(({ setId }) => setId === justEnded.value);
  // The list itself says what is in memory only.
  const isSaved = set !== undefined && set.isInMemoryOnly !== true;
  return (
    <p class={isSaved ? '' : 'out-of-sight'} role="status">
      {isSaved && (
        <>
          Saved: {set.player}, {swingWords(set.swings)}.{' '}
          <a href={hashOf({ screen: 'set', setId: set.setId })}>Open it</a>
        </>
      )}
    </p>
  );
}
