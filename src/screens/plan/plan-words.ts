import { kitLetter } from './kit-entry.ts';
import { blocksOf, type PlanEntry } from './plan-entry.ts';

/** For instance '4 blocks, 40 swings'. */
export function amountWords(entry: PlanEntry): string {
  const blocks = entry.kits.length * entry.rounds;
  const words = (count: number, name: string): string =>
    `${count} ${name}${count === 1 ? '' : 's'}`;
  return `${words(blocks, 'block')}, ${words(blocks * entry.swingsPerBlock, 'swing')}`;
}

/** The order of blocks as letters, for instance 'A B B A'. */
export function orderWords(entry: PlanEntry): string {
  return blocksOf(entry).map(kitLetter).join(' ');
}

/** Each kit in a few words; what is missing is said. */
export function kitWords({ kits }: PlanEntry): readonly string[] {
  return kits.map(({ implement, ball }, place) => {
    const letter = kits.length === 1 ? '' : `${kitLetter(place)}: `;
    return `${letter}${implement.trim() || 'No implement yet'}, ${ball.trim() || 'no ball yet'}`;
  });
}

/** What is played and how it is scored. */
export function taskWords({ task, scoring, widthM, depthM }: PlanEntry): string {
  const target = scoring === 'eye' ? 'scored by eye' : `box of ${widthM} × ${depthM} m`;
  return task.trim() === ''
    ? target.charAt(0).toUpperCase() + target.slice(1)
    : `${task}, ${target}`;
}

/** What the player hears, and when. */
export function feedbackWords(entry: PlanEntry): string {
  const { feedback, hopedReachCm, halfWidthCm } = entry;
  const hasBand = !Number.isNaN(hopedReachCm);
  const band = hasBand ? [`band ${hopedReachCm} ± ${halfWidthCm} cm`] : [];
  if (feedback.cue === 'none') return inOneLine([...band, 'nothing is told']);
  const cue = feedback.cue === 'tone' ? 'tone' : 'spoken reach';
  const offBand = feedback.isOnlyOffBand && hasBand ? ['only off the band'] : [];
  const fading = feedback.isFading && blocksOf(entry).length > 1 ? ['ever less often'] : [];
  return inOneLine([...band, cue, ...offBand, ...fading]);
}

function inOneLine(parts: readonly string[]): string {
  const line = parts.join(', ');
  return line.charAt(0).toUpperCase() + line.slice(1);
}
