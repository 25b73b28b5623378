import { SEGMENT_WORDS, SEGMENTS } from '../../core/arm/segments.ts';
import type { CourtModel } from './court-model.ts';
import './connect-guide.css';

/** Connects the three sensors and shows which is which; then the two holds can begin. */
export function ConnectGuide({ model }: { readonly model: CourtModel }) {
  const states = model.connections.value;
  const missing = SEGMENTS.filter((segment) => states[segment].state !== 'streaming');
  const zero = model.zero.value;
  const problem = zero.phase === 'not-started' ? zero.problem : null;
  return (
    <div class="guide-plain guide-connect">
      {missing.length === 0 ? (
        <AllHere problem={problem} onZero={model.zeroAgain} />
      ) : (
        <>
          <p class="guide-words">Connect the sensors, one after the other.</p>
          <div class="guide-buttons">
            {missing.map((segment) => (
              <button
                key={segment}
                type="button"
                // Another one may be chosen while a remembered sensor is still being sought.
                aria-busy={states[segment].state === 'connecting'}
                onClick={() => model.connect(segment)}
              >
                {SEGMENT_WORDS[segment]}
              </button>
            ))}
          </div>
        </>
      )}
      {problem === null && <BlinkButtons model={model} />}
    </div>
  );
}

interface AllHereProps {
  readonly problem: string | null;
  readonly onZero: () => void;
}

function AllHere({ problem, onZero }: AllHereProps) {
  return (
    <>
      {problem !== null && <p class="guide-problem">{problem}</p>}
      <p class="guide-words">All three are here.</p>
      <p class="soft">Does each sit tight? Clear space, and stop on pain.</p>
      <button type="button" class="primary" onClick={onZero}>
        Zero now: two holds
      </button>
    </>
  );
}

/** Which sensor is which: the one that blinks. A wrong one is exchanged by a tap on its place in the strip. */
function BlinkButtons({ model }: { readonly model: CourtModel }) {
  const states = model.connections.value;
  const connected = SEGMENTS.filter((segment) => states[segment].state === 'streaming');
  if (connected.length === 0) return null;
  return (
    <div class="guide-blinks">
      {connected.map((segment) => (
        <button key={segment} type="button" onClick={() => model.blink(segment)}>
          Blink {SEGMENT_WORDS[segment]}
        </button>
      ))}
    </div>
  );
}
