import { LengthField } from '../controls/LengthField.tsx';
import { TextField } from '../controls/TextField.tsx';
import { KitForm } from './KitForm.tsx';
import type { KitModel, OpenForm } from './kit-model.ts';

interface Props {
  readonly model: KitModel;
  readonly form: Extract<OpenForm, { kind: 'ball' }>;
}

/** One ball. */
export function BallForm({ model, form: { entry, isKnown } }: Props) {
  return (
    <KitForm
      model={model}
      label="Ball"
      name={entry.ball}
      isKnown={isKnown}
      onName={(ball) => model.changeBall({ ball })}
    >
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
    </KitForm>
  );
}
