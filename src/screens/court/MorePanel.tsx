import { ConfirmButton } from '../controls/ConfirmButton.tsx';
import type { CourtModel } from './court-model.ts';

interface Props {
  readonly model: CourtModel;
  readonly onNote: () => void;
  readonly onNextBlock: () => void;
  /** Points by target map instead of the pad; null when no target is planned. */
  readonly isByMap: boolean | null;
  readonly onByMap: (byMap: boolean) => void;
  readonly onBack: () => void;
}

/** What is wanted less often than a score. */
export function MorePanel({ model, onNote, onNextBlock, isByMap, onByMap, onBack }: Props) {
  const isOn = model.isSoundOn.value;
  const { plan } = model.description;
  return (
    <section class="panel" aria-label="More">
      <div class="panel-grid">
        <button type="button" onClick={onNote}>
          Write a note
        </button>
        <button type="button" onClick={() => model.turnSound(!isOn)}>
          {isOn ? 'Turn sound off' : 'Turn sound on'}
        </button>
        {isByMap !== null && (
          <button type="button" onClick={() => onByMap(!isByMap)}>
            {isByMap ? 'Score by points' : 'Score on the map'}
          </button>
        )}
        {plan !== undefined && (
          <button type="button" onClick={onNextBlock}>
            Next block
          </button>
        )}
        <ConfirmButton
          label="Zero again"
          question="Zero now?"
          onConfirm={() => {
            model.zeroAgain();
            onBack();
          }}
        />
      </div>
      <div class="panel-buttons">
        <button type="button" class="primary" onClick={onBack}>
          Back
        </button>
      </div>
    </section>
  );
}
