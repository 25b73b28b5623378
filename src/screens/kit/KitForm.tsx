import type { ComponentChildren } from 'preact';
import { TextField } from '../controls/TextField.tsx';
import { FormFoot } from './FormFoot.tsx';
import type { KitModel } from './kit-model.ts';

interface Props {
  readonly model: KitModel;
  /** What kind of thing it is. */
  readonly label: string;
  readonly name: string;
  /** A known thing keeps the name that the sets have. */
  readonly isKnown: boolean;
  readonly onName: (name: string) => void;
  readonly children: ComponentChildren;
}

/** One thing of the kit: its name, what is known of it, and how the form is left. */
export function KitForm({ model, label, name, isKnown, onName, children }: Props) {
  return (
    <form
      class="set-form"
      onSubmit={(event) => {
        event.preventDefault();
        model.save();
      }}
    >
      {isKnown ? (
        <h2 class="kit-name">{name}</h2>
      ) : (
        <TextField label={label} value={name} onChange={onName} />
      )}
      {children}
      <FormFoot model={model} isKnown={isKnown} />
    </form>
  );
}
