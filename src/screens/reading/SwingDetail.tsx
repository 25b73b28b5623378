import type { ScoredSwing } from '../../core/pipeline/outputs.ts';
import type { SwingTrace } from '../../core/pipeline/swing-trace.ts';
import { voidWords } from '../court/swing-words.ts';
import { ArmReplay } from './ArmReplay.tsx';
import { SwingEditor } from './SwingEditor.tsx';
import { SwingTraces } from './SwingTraces.tsx';
import { moveEnds, type SetEdit } from './set-edits.ts';

interface Props {
  readonly scored: ScoredSwing;
  /** undefined until it has come; null when there is nothing to draw. */
  readonly trace: SwingTrace | null | undefined;
  readonly scoreSteps: readonly number[];
  readonly isEditing: boolean;
  readonly onEdit: (edit: SetEdit) => void;
}

/** One swing: its corrections, its traces, the arm through it. */
export function SwingDetail({ scored, trace, scoreSteps, isEditing, onEdit }: Props) {
  return (
    <div class="swing-detail">
      <SwingEditor scored={scored} scoreSteps={scoreSteps} isEditing={isEditing} onEdit={onEdit} />
      {trace === undefined && (
        <p class="soft" role="status">
          Reading the swing…
        </p>
      )}
      {trace === null && <p class="soft">{nothingWords(scored)}</p>}
      {trace && (
        <div class="swing-pictures">
          <SwingTraces
            trace={trace}
            endsMoved={scored.endsMoved}
            isEditing={isEditing}
            onMove={(ends) => onEdit(moveEnds(scored, trace, ends))}
          />
          <ArmReplay trace={trace} />
        </div>
      )}
    </div>
  );
}

function nothingWords({ swing }: ScoredSwing): string {
  return swing.voidReason === null
    ? 'Nothing is left of this swing to draw.'
    : `Nothing to draw. ${voidWords(swing.voidReason)}.`;
}
