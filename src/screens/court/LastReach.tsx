import { lastStruck } from './coach-log.ts';
import type { CourtView } from './court-view.ts';
import { ReachRuler } from './ReachRuler.tsx';
import { reachScale } from './reach-scale.ts';
import { announce, missOf, missWords, voidWords } from './swing-words.ts';
import './last-reach.css';

/** The last swing: where its reach lies against the band, then the number. */
export function LastReach({ view }: { readonly view: CourtView }) {
  const band = view.band.value;
  const swings = view.likeSwings.value;
  const last = lastStruck(swings);
  const scale = reachScale(band, swings);
  const reachM = last === undefined || last.swing.voidReason !== null ? null : last.swing.reachM;
  const side = reachM === null ? 'unknown' : missOf(reachM, band).side;
  // Odd and even swings differ in the shape of their badge: a new one shows without anything moving.
  const badge = last === undefined ? 'none' : last.swing.index % 2 === 0 ? 'round' : 'square';
  const waits = last !== undefined && last.points === null && !last.discarded;
  return (
    <div class={`last-reach last-reach-${side}`}>
      <div class="last-head">
        <b class={`badge badge-${badge}${waits ? ' badge-waiting' : ''}`}>
          {last === undefined ? '–' : last.swing.index + 1}
        </b>
        <span class="miss-words">{headline(view)}</span>
        <span class="last-points">{pointsWords(view)}</span>
      </div>
      {scale === null ? (
        <div class="ruler" />
      ) : (
        <ReachRuler scale={scale} band={band} reachM={reachM} />
      )}
      <Digits reachM={reachM} />
      <p class="out-of-sight" aria-live="polite">
        {last === undefined ? '' : announce(last.swing, band)}
      </p>
    </div>
  );
}

function Digits({ reachM }: { readonly reachM: number | null }) {
  if (reachM === null) {
    return (
      <div class="digits digits-empty" aria-hidden="true">
        <span>–</span>
      </div>
    );
  }
  const [whole, tenth] = (reachM * 100).toFixed(1).split('.');
  return (
    <div class="digits" data-testid="reach">
      <span>{whole}</span>
      <span class="digits-side">
        <span class="digits-unit">cm</span>
        <span class="digits-tenth">.{tenth}</span>
      </span>
    </div>
  );
}

function headline(view: CourtView): string {
  const last = lastStruck(view.likeSwings.value);
  if (last === undefined) return 'Zeroed and ready';
  if (last.swing.voidReason !== null) return voidWords(last.swing.voidReason);
  return missWords(missOf(last.swing.reachM, view.band.value));
}

function pointsWords(view: CourtView): string {
  const last = lastStruck(view.likeSwings.value);
  if (last === undefined) return '';
  if (last.discarded) return 'discarded';
  return last.points === null ? 'no score' : `${last.points} points`;
}
