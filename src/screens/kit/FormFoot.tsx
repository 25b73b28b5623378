import { ConfirmButton } from '../controls/ConfirmButton.tsx';
import type { KitModel } from './kit-model.ts';

interface Props {
  readonly model: KitModel;
  readonly isKnown: boolean;
}

/** How a form of the Kit screen is left. */
export function FormFoot({ model, isKnown }: Props) {
  return (
    <>
      {model.problem.value !== null && (
        <p class="notice" role="alert">
          {model.problem.value}
        </p>
      )}
      <button type="submit" class="primary">
        Save
      </button>
      <div class="kit-aside">
        <button type="button" onClick={model.leave}>
          Back without saving
        </button>
        {isKnown && (
          <ConfirmButton label="Delete" question="From the kit?" onConfirm={model.forget} />
        )}
      </div>
    </>
  );
}
