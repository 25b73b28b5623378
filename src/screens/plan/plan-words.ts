import { hasBand, kitLetter } from './kit-entry.ts';
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
  return kits.map((kit, place) => {
    const { implement, ball, hopedReachCm, halfWidthCm } = kit;
    const band = hasBand(kit) ? `, ${hopedReachCm} ± ${halfWidthCm} cm` : '';
    const letter = kits.length === 1 ? '' : `${kitLetter(place)}: `;
    return `${letter}${implement.trim() || 'No implement yet'}, ${ball.trim() || 'no ball yet'}${band}`;
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
  const { feedback } = entry;
  if (feedback.cue === 'none') return 'Nothing is told';
  const cue = feedback.cue === 'tone' ? 'Tone' : 'Spoken reach';
  const offBand = feedback.isOnlyOffBand && entry.kits.some(hasBand) ? ['only off the band'] : [];
  const fading = feedback.isFading && blocksOf(entry).length > 1 ? ['ever less often'] : [];
  return [cue, ...offBand, ...fading].join(', ');
}
