import { ConfirmButton } from '../controls/ConfirmButton.tsx';
import type { CourtModel } from './court-model.ts';
import './score-pad.css';

interface Props {
  readonly model: CourtModel;
  readonly onEnd: () => void;
}

/** Points under the thumb, best first; below them what takes back, leaves out, zeroes and ends. */
export function ScorePad({ model, onEnd }: Props) {
  const target = model.target.value;
  return (
    <section class="pad" aria-label="Score">
      <p class="pad-line">
        <b>{target === null ? 'No swing to score yet' : `Score swing ${target.swing.index + 1}`}</b>
        <span class="ball-line">{ballLine(model)}</span>
      </p>
      <div class="pad-steps">
        {model.description.scoreSteps.map((points, at) => (
          <button
            key={points}
            type="button"
            class="pad-step"
            disabled={target === null}
            aria-pressed={target?.points === points}
            aria-label={`${points} points`}
            aria-keyshortcuts={String(at + 1)}
            onClick={() => model.score(points)}
          >
            {points}
            <kbd>{at + 1}</kbd>
          </button>
        ))}
      </div>
      <div class="pad-rest">
        <button
          type="button"
          disabled={!model.canUndo.value}
          aria-keyshortcuts="U"
          onClick={model.undo}
        >
          Undo
        </button>
        <button
          type="button"
          disabled={!model.canDiscard.value}
          aria-keyshortcuts="D"
          onClick={model.discard}
        >
          Discard
        </button>
        {/* The simulated player zeroes once, at the start, and would not hear the request. */}
        {model.description.source === 'sensors' && (
          <ConfirmButton label="Zero again" question="Zero now?" onConfirm={model.zeroAgain} />
        )}
        <ConfirmButton label="End set" question="Tap to end" onConfirm={onEnd} />
      </div>
    </section>
  );
}

/** Where the simulated ball went; a real one the coach has seen. */
function ballLine(model: CourtModel): string {
  if (model.description.source !== 'simulated') return '';
  const ball = model.landing.value;
  if (ball !== null) return `Ball: ${ball.words}, worth ${ball.points}`;
  return model.target.value === null ? 'Ball: none yet' : 'Ball: in the air';
}
