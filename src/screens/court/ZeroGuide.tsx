import { SEGMENT_WORDS, SEGMENTS } from '../../core/arm/segments.ts';
import type { CourtModel } from './court-model.ts';
import { PosePicture } from './PosePicture.tsx';
import './zero-guide.css';

/** What to do before reach can be measured: connect, then the two holds. */
export function ZeroGuide({ model }: { readonly model: CourtModel }) {
  const zero = model.zero.value;
  if (zero.phase === 'plumb' || zero.phase === 'point') {
    const hold =
      zero.phase === 'plumb'
        ? { name: 'Hold 1 of 2', words: 'Let the arm hang, implement hanging from two fingers.' }
        : {
            name: 'Hold 2 of 2',
            words: 'Arm and implement straight at the target, level, thumb up.',
          };
    return (
      <div class="guide">
        <PosePicture pose={zero.phase} />
        <div class="guide-text" role="status">
          <h2>{hold.name}</h2>
          <p class="guide-words">{hold.words}</p>
          <p class={zero.problem === null ? 'soft' : 'guide-problem'}>
            {zero.problem ?? 'Keep still for three seconds.'}
          </p>
        </div>
      </div>
    );
  }
  return model.description.source === 'sensors' ? <ConnectGuide model={model} /> : <PlayerGuide />;
}

function PlayerGuide() {
  return (
    <div class="guide-plain" role="status">
      <p class="guide-words">The simulated player is getting ready.</p>
      <p class="soft">The two holds come by themselves.</p>
    </div>
  );
}

function ConnectGuide({ model }: { readonly model: CourtModel }) {
  const states = model.connections.value;
  const missing = SEGMENTS.filter((segment) => states[segment].state !== 'streaming');
  if (missing.length === 0) {
    const zero = model.zero.value;
    const problem = zero.phase === 'not-started' ? zero.problem : null;
    return (
      <div class="guide-plain">
        {problem !== null && <p class="guide-problem">{problem}</p>}
        <p class="guide-words">All three are here. Check that each sits tight.</p>
        <p class="soft">Clear space around the player, and stop on pain.</p>
        <button type="button" class="primary" onClick={model.zeroAgain}>
          Zero now: two holds
        </button>
      </div>
    );
  }
  return (
    <div class="guide-plain">
      <p class="guide-words">Connect the sensors, one after the other.</p>
      <div class="guide-buttons">
        {missing.map((segment) => (
          <button
            key={segment}
            type="button"
            disabled={states[segment].state === 'connecting'}
            onClick={() => model.connect(segment)}
          >
            {SEGMENT_WORDS[segment]}
          </button>
        ))}
      </div>
    </div>
  );
}
