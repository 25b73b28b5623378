import { lastStruck } from './coach-log.ts';
import type { CourtModel } from './court-model.ts';
import { TargetMap } from './TargetMap.tsx';
import './score-pad.css';

interface Props {
  readonly model: CourtModel;
  /** Points by tapping where the ball landed. */
  readonly isByMap: boolean;
  readonly onNote: () => void;
  readonly onMore: () => void;
  readonly onEnd: () => void;
}

/** Points under the thumb, best first; below them what takes back, leaves out, writes down and ends. */
export function ScorePad({ model, isByMap, onNote, onMore, onEnd }: Props) {
  const target = model.target.value;
  const planned = model.description.plan?.target ?? null;
  const undoes = model.undoes.value;
  return (
    <section class="pad" aria-label="Score">
      <p class="pad-line">
        <b>{padHeading(model)}</b>
        <span class="ball-line">{ballLine(model)}</span>
      </p>
      {isByMap && planned !== null ? (
        <TargetMap model={model} target={planned} />
      ) : (
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
              data-key={at + 1}
              onClick={() => model.score(points)}
            >
              {points}
            </button>
          ))}
        </div>
      )}
      <div class="pad-rest">
        <button
          type="button"
          disabled={undoes === null}
          aria-keyshortcuts="U"
          title={undoes === null ? undefined : `Takes back the ${undoes}`}
          onClick={model.undo}
        >
          Undo
        </button>
        <button
          type="button"
          disabled={target === null}
          aria-keyshortcuts="D"
          onClick={model.discard}
        >
          Discard
        </button>
        <button type="button" onClick={onNote}>
          Note
        </button>
        <button type="button" onClick={onMore}>
          More
        </button>
        <button type="button" onClick={onEnd}>
          End set
        </button>
      </div>
    </section>
  );
}

function padHeading({ target, swings, undoes }: CourtModel): string {
  if (target.value !== null) return `Score swing ${target.value.swing.index + 1}`;
  const isDiscarded = lastStruck(swings.value)?.discarded === true;
  return isDiscarded && undoes.value !== null
    ? 'Discarded. Undo brings it back.'
    : 'No swing to score yet';
}

/** Where the simulated ball went; a real one the coach has seen. */
function ballLine(model: CourtModel): string {
  if (model.description.source !== 'simulated') return '';
  const ball = model.landing.value;
  if (ball !== null) return `Ball: ${ball.words}, worth ${ball.points}`;
  return model.target.value === null ? 'Ball: none yet' : 'Ball: in the air';
}
