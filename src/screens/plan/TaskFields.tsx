import { Choice } from '../controls/Choice.tsx';
import { LengthField } from '../controls/LengthField.tsx';
import { TextField } from '../controls/TextField.tsx';
import type { PlanModel } from './plan-model.ts';

/** What is played, and how a ball earns its points. */
export function TaskFields({ model }: { readonly model: PlanModel }) {
  const { task, scoring, widthM, depthM, stepM, points } = model.entry.value;
  return (
    <>
      <TextField
        label="Task, in your words (optional)"
        required={false}
        value={task}
        onChange={(words) => model.change({ task: words })}
      />
      <Choice
        name="scoring"
        legend="Target"
        value={scoring}
        onChange={(chosen) => model.change({ scoring: chosen })}
        options={[
          { value: 'eye', label: 'Scored by eye' },
          { value: 'box', label: 'A taped box' },
        ]}
      />
      {scoring === 'box' && (
        <div class="fields">
          <LengthField
            label="Width of the box"
            unit="m"
            min={0.05}
            max={30}
            value={widthM}
            onChange={(metres) => model.change({ widthM: metres })}
          />
          <LengthField
            label="Depth, away from the player"
            unit="m"
            min={0.05}
            max={30}
            value={depthM}
            onChange={(metres) => model.change({ depthM: metres })}
          />
          <LengthField
            label="One step of points lost every"
            unit="m"
            min={0.05}
            max={30}
            value={stepM}
            onChange={(metres) => model.change({ stepM: metres })}
          />
        </div>
      )}
      <TextField
        label="Points, best first"
        value={points}
        onChange={(typed) => model.change({ points: typed })}
      />
    </>
  );
}
