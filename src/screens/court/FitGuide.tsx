import { SEGMENT_WORDS, SEGMENTS, type Segment } from '../../core/arm/segments.ts';
import type { ShakeState } from '../../core/pipeline/outputs.ts';
import type { CourtModel } from './court-model.ts';
import { linkWords } from './sensor-status.ts';
import './fit-guide.css';

/** Where each sensor sits. */
const PLACES: Readonly<Record<Segment, string>> = {
  upperArm: 'Outside of the arm, a hand above the elbow',
  forearm: 'Back of the forearm, a hand above the wrist',
  implement: 'On the shaft, just above the grip',
};

/** Connects the three sensors, shows which is which and how good its link is; then the two holds can begin. */
export function FitGuide({ model }: { readonly model: CourtModel }) {
  const states = model.connections.value;
  const allHere = SEGMENTS.every((segment) => states[segment].state === 'streaming');
  const zero = model.zero.value;
  const problem = zero.phase === 'not-started' ? zero.problem : null;
  return (
    <div class="fit">
      {problem !== null && <p class="guide-problem">{problem}</p>}
      <p class="guide-words">
        {allHere ? 'All three are here.' : 'Connect the sensors, one after the other.'}
      </p>
      <ul class="fit-sensors">
        {SEGMENTS.map((segment) => (
          <FitRow key={segment} model={model} segment={segment} />
        ))}
      </ul>
      {allHere && <Shake state={model.shake.value} onShake={model.shakeNow} />}
      {allHere && (
        <>
          <p class="soft">Does each sit tight? Clear space, and stop on pain.</p>
          <button type="button" class="primary" onClick={model.zeroAgain}>
            Zero now: two holds
          </button>
        </>
      )}
    </div>
  );
}

interface RowProps {
  readonly model: CourtModel;
  readonly segment: Segment;
}

function FitRow({ model, segment }: RowProps) {
  const connection = model.connections.value[segment];
  const name = SEGMENT_WORDS[segment];
  const isHere = connection.state === 'streaming';
  return (
    <li class="fit-row">
      <div>
        <b class="fit-name">{name}</b>
        <p class="soft">{isHere ? linkWords(model.health.value[segment]) : PLACES[segment]}</p>
      </div>
      <div class="fit-buttons">
        {isHere ? (
          <>
            <button type="button" aria-label={`Blink ${name}`} onClick={() => model.blink(segment)}>
              Blink
            </button>
            <button
              type="button"
              aria-label={`Forget ${name}`}
              title="Let go of this sensor, to choose another for this place"
              onClick={() => model.forget(segment)}
            >
              Forget
            </button>
          </>
        ) : (
          <button
            type="button"
            class="primary"
            aria-label={`Connect ${name}`}
            // Another one may be chosen while a remembered sensor is still being sought.
            aria-busy={connection.state === 'connecting'}
            onClick={() => model.connect(segment)}
          >
            Connect
          </button>
        )}
      </div>
    </li>
  );
}

interface ShakeProps {
  readonly state: ShakeState;
  readonly onShake: () => void;
}

/** Aligning the clocks by a shake is worth it before the sensors are put on; swings do the same later. */
function Shake({ state, onShake }: ShakeProps) {
  return (
    <div class="fit-row">
      <p class={state.phase === 'failed' ? 'guide-problem' : 'soft'} role="status">
        {shakeWords(state)}
      </p>
      <div class="fit-buttons">
        <button type="button" disabled={state.phase === 'shaking'} onClick={onShake}>
          {state.phase === 'none' ? 'Shake' : 'Shake again'}
        </button>
      </div>
    </div>
  );
}

function shakeWords(state: ShakeState): string {
  switch (state.phase) {
    case 'none':
      return 'Not fitted yet? Align their clocks: shake all three in one hand for 4 s.';
    case 'shaking':
      return 'Hold all three tight in one hand and shake, until this line changes.';
    case 'aligned':
      return `Clocks aligned by the shake: ${ms(state.elbowLagMs)} and ${ms(state.wristLagMs)} ms taken off.`;
    case 'failed':
      return state.problem;
  }
}

function ms(value: number): string {
  return value.toFixed(1);
}
