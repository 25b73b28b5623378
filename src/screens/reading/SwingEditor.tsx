import type { ScoredSwing } from '../../core/pipeline/outputs.ts';
import { leaveOut, type SetEdit, scoreAs, takeIn } from './set-edits.ts';

interface Props {
  readonly scored: ScoredSwing;
  readonly scoreSteps: readonly number[];
  readonly isEditing: boolean;
  readonly onEdit: (edit: SetEdit) => void;
}

/** What mostly makes a coach leave a swing out; a tap gives the reason along. */
const REASONS = ['poor feed', 'not a real try', 'disturbed', 'sensor had slipped'] as const;

/** Corrects one swing: leaves it out with a reason, counts it again, gives it other points. */
export function SwingEditor({ scored, scoreSteps, isEditing, onEdit }: Props) {
  return (
    <div class="swing-editor">
      {scored.discarded ? (
        <button type="button" disabled={isEditing} onClick={() => onEdit(takeIn(scored))}>
          Count it again
        </button>
      ) : (
        <fieldset>
          <legend>Leave it out</legend>
          {REASONS.map((reason) => (
            <button
              key={reason}
              type="button"
              disabled={isEditing}
              onClick={() => onEdit(leaveOut(scored, reason))}
            >
              {reason}
            </button>
          ))}
        </fieldset>
      )}
      {scoreSteps.length > 0 && (
        <fieldset>
          <legend>Points</legend>
          {scoreSteps.map((points) => (
            <button
              key={points}
              type="button"
              aria-pressed={scored.points === points}
              disabled={isEditing}
              onClick={() => onEdit(scoreAs(scored, points))}
            >
              {points}
            </button>
          ))}
          <button
            type="button"
            aria-pressed={scored.points === null}
            disabled={isEditing}
            onClick={() => onEdit(scoreAs(scored, null))}
          >
            none
          </button>
        </fieldset>
      )}
    </div>
  );
}
