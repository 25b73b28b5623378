import { useState } from 'preact/hooks';
import type { SimulatedChoice } from '../begin-set.ts';
import { Choice } from '../controls/Choice.tsx';

const FIRST_CHOICE: SimulatedChoice = {
  implement: 'short',
  ball: 'training',
  strategy: 'distal',
  blocks: 'one',
  speed: '4',
};

interface Props {
  readonly onStart: (choice: SimulatedChoice) => void;
}

/** What the simulated player holds, hits and how it moves. */
export function SimulatedForm({ onStart }: Props) {
  const [choice, setChoice] = useState(FIRST_CHOICE);
  const change = (part: Partial<SimulatedChoice>): void => setChoice({ ...choice, ...part });
  const inOrderMm = choice.implement === 'short' ? '580, 685, 685, 580' : '685, 580, 580, 685';
  return (
    <form
      class="set-form"
      onSubmit={(event) => {
        event.preventDefault();
        onStart(choice);
      }}
    >
      <p class="soft">
        Invented: Player A, nine years, junior squash. Coach-fed forehand drives to a taped box.
      </p>
      <Choice
        name="implement"
        legend="Racket"
        value={choice.implement}
        onChange={(implement) => change({ implement })}
        options={[
          { value: 'short', label: '580 mm' },
          { value: 'full', label: '685 mm' },
        ]}
      />
      <Choice
        name="ball"
        legend="Ball"
        value={choice.ball}
        onChange={(ball) => change({ ball })}
        options={[
          { value: 'training', label: 'Larger, slower' },
          { value: 'standard', label: 'Standard' },
        ]}
      />
      <Choice
        name="strategy"
        stacked
        legend="Movement"
        value={choice.strategy}
        onChange={(strategy) => change({ strategy })}
        options={[
          { value: 'distal', label: 'Whole-arm control through forearm and hand' },
          { value: 'frozen', label: 'Stiff elbow, late wrist' },
        ]}
      />
      <Choice
        name="blocks"
        stacked
        legend="Plan"
        value={choice.blocks}
        onChange={(blocks) => change({ blocks })}
        options={[
          { value: 'one', label: 'One racket, 40 swings' },
          {
            value: 'four',
            label: `Two rackets, four blocks of ten: ${inOrderMm} mm`,
          },
        ]}
      />
      <Choice
        name="speed"
        stacked
        legend="Speed"
        value={choice.speed}
        onChange={(speed) => change({ speed })}
        options={[
          { value: '1', label: 'As in life' },
          { value: '4', label: '4 times' },
          { value: '20', label: '20 times' },
        ]}
      />
      <button type="submit" class="primary">
        Start simulated set
      </button>
    </form>
  );
}
