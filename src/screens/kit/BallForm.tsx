import { LengthField } from '../controls/LengthField.tsx';
import { TextField } from '../controls/TextField.tsx';
import { FormFoot } from './FormFoot.tsx';
import type { KitModel, OpenForm } from './kit-model.ts';

interface Props {
  readonly model: KitModel;
  readonly form: Extract<OpenForm, { kind: 'ball' }>;
}

/** One ball. */
export function BallForm({ model, form: { entry, isKnown } }: Props) {
  return (
    <form
      class="set-form"
      onSubmit={(event) => {
        event.preventDefault();
        model.save();
      }}
    >
      {isKnown ? (
        <h2 class="kit-name">{entry.ball}</h2>
      ) : (
        <TextField
          label="Ball"
          value={entry.ball}
          onChange={(ball) => model.changeBall({ ball })}
        />
      )}
      <LengthField
        label="Diameter (optional)"
        required={false}
        max={50}
        value={entry.diameterCm}
        onChange={(diameterCm) => model.changeBall({ diameterCm })}
      />
      <TextField
        label="Compression or speed (optional)"
        hint="In words, as printed on it: slow, low compression, two dots."
        required={false}
        value={entry.compression}
        onChange={(compression) => model.changeBall({ compression })}
      />
      <FormFoot model={model} isKnown={isKnown} />
    </form>
  );
}
