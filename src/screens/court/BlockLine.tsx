import { type BlockProgress, conditionWords } from './block-progress.ts';
import './block-line.css';

/** Where the set stands in its plan: one thin line, always in its place. */
export function BlockLine({ progress }: { readonly progress: BlockProgress }) {
  const { block, blocks, condition, swings, wanted } = progress;
  const share = wanted === null ? 0 : Math.min(1, swings / wanted);
  const count =
    wanted === null ? (swings === 1 ? '1 swing' : `${swings} swings`) : `${swings} of ${wanted}`;
  return (
    <p class="block-line" data-testid="block-line">
      <span class="block-done" style={{ width: `${share * 100}%` }} />
      <b>{blocks === null ? 'Kit' : `Block ${block + 1} of ${blocks}`}</b>
      <span class="block-kit">{conditionWords(condition)}</span>
      <b class="block-count">{count}</b>
    </p>
  );
}
