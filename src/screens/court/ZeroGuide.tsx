import type { CourtView } from './court-view.ts';
import { PosePicture } from './PosePicture.tsx';
import './zero-guide.css';

/** The two holds, which come before any reach; a simulated player takes them by itself. */
export function ZeroGuide({ view }: { readonly view: CourtView }) {
  const zero = view.zero.value;
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
  return (
    <div class="guide-plain" role="status">
      <p class="guide-words">The simulated player is getting ready.</p>
      <p class="soft">The two holds come by themselves.</p>
    </div>
  );
}
