import { Choice } from '../controls/Choice.tsx';
import type { OpenedSet } from './reading-model.ts';

interface Props {
  readonly opened: OpenedSet;
  readonly onChoose: (block: number) => void;
}

/** Which condition of the set is read; nothing where there is only one. */
export function ConditionChoice({ opened: { conditions, blocks, view }, onChoose }: Props) {
  if (conditions.length < 2) return null;
  return (
    <Choice
      name="condition"
      legend="Played with"
      stacked
      options={conditions.map((alike) => ({
        value: String(alike[0]),
        label: wordsOf(alike, view),
      }))}
      value={String(blocks[0])}
      onChange={(block) => onChoose(Number(block))}
    />
  );
}

function wordsOf(alike: readonly number[], { blocks, swings }: OpenedSet['view']): string {
  const { implement, ball, feed } = blocks[alike[0]!]!;
  const count = swings.filter(({ block }) => alike.includes(block)).length;
  const places = alike.map((block) => block + 1).join(', ');
  return `${[implement, ball, feed].filter((word) => word !== '').join(', ')} · ${alike.length === 1 ? 'block' : 'blocks'} ${places}, ${count} swings`;
}
