import { SEGMENT_WORDS, SEGMENTS } from '../../core/arm/segments.ts';
import type { PoseLook } from '../../core/pipeline/outputs.ts';
import type { CourtView } from './court-view.ts';
import { PosePicture } from './PosePicture.tsx';
import './zero-guide.css';

const HOLDS = {
  plumb: {
    name: 'Hold 1 of 2',
    words: 'Let the arm hang, implement hanging from two fingers.',
  },
  point: {
    name: 'Hold 2 of 2',
    words: 'Arm and implement straight at the target, level, thumb up.',
  },
} as const;

/** The two holds, which come before any reach, with the arm as it is. */
export function ZeroGuide({ view }: { readonly view: CourtView }) {
  const zero = view.zero.value;
  const look = view.pose.value;
  if (zero.phase !== 'plumb' && zero.phase !== 'point') {
    return (
      <div class="guide-plain" role="status">
        <p class="guide-words">The simulated player is getting ready.</p>
        <p class="soft">The two holds come by themselves.</p>
      </div>
    );
  }
  const hold = HOLDS[zero.phase];
  return (
    <div class="guide">
      <PosePicture pose={zero.phase} look={look} />
      <div class="guide-text">
        <div role="status">
          <h2>{hold.name}</h2>
          <p class="guide-words">{hold.words}</p>
          {zero.problem !== null && <p class="guide-problem">{zero.problem}</p>}
        </div>
        <progress
          class="guide-hold"
          max={1}
          value={look?.holdShare ?? 0}
          aria-label="Hold so far"
        />
        <p class="soft guide-still">{stillWords(look)}</p>
      </div>
    </div>
  );
}

/** Whose stillness is wanting, in a line that keeps its place. */
function stillWords(look: PoseLook | null): string {
  if (look === null) return 'No data yet.';
  const moving = SEGMENTS.filter((segment) => !look.isStill[segment]);
  if (moving.length === 0) return 'Still. Hold on.';
  if (moving.length === SEGMENTS.length) return 'Keep still for three seconds.';
  return `Moving: ${moving.map((segment) => SEGMENT_WORDS[segment]).join(', ')}.`;
}
