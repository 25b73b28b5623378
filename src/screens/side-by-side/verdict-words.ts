import type { ComparedMeasure, Comparison } from '../../core/measures/comparison.ts';
import type { Kit } from '../../core/measures/comparison-measure.ts';
import { COMPARED, COMPARISON } from '../../core/measures/comparison-words.ts';
import { unavailableWords } from '../../core/measures/thresholds.ts';
import { isUnavailable, type Unavailable } from '../../core/statistics/estimate.ts';
import { type ComparedPair, letterOf } from './compared-pair.ts';
import { nameOf } from './pair-kits.ts';

const { alpha: ALPHA } = COMPARISON.limits;

/** What follows from a measure or, where nothing does, the reason. Checked: tests/screens/side-by-side-words.test.ts */
export function verdictWords(
  measure: ComparedMeasure,
  pair: ComparedPair,
  comparison: Comparison,
): string {
  const { name, contrast, p, favours } = measure;
  if (isUnavailable(contrast))
    return `Not known: ${lackingWords(name, contrast, pair, comparison)}.`;
  if (isUnavailable(p)) return `Not known whether it is chance: ${unavailableWords(p)}.`;
  if (COMPARED[name].favourable === 'neither')
    return 'Speaks for neither kit: faster is not better by itself.';
  if (favours !== null)
    return `Speaks for ${nameOf(pair, letterOf(pair, favours))}: ${COMPARED[name].better}.`;
  return notShownWords(measure, p.p);
}

function notShownWords({ name, contrast, pHolm }: ComparedMeasure, p: number): string {
  // The core shows a difference and yet lets it speak for no kit: isElbowHeldStill of comparison-arm.ts.
  if (!isUnavailable(pHolm) && pHolm <= ALPHA)
    return 'Speaks for neither kit: with the elbow held nearly still the two parts move as one by themselves.';
  const none = COMPARED[name].scale === 'ratio' ? 1 : 0;
  const isOpen = isUnavailable(contrast) || (contrast.low <= none && none <= contrast.high);
  if (isOpen) return 'Not shown: the bar reaches to both sides, so it may be chance.';
  return p <= ALPHA
    ? 'Not shown: alone it would count, but of so many measures side by side one may differ like this by chance.'
    : `Not shown: with the swings dealt out to the two kits at random, ${(100 * p).toFixed(0)} of 100 deals differ as much.`;
}

function lackingWords(
  name: ComparedMeasure['name'],
  why: Unavailable,
  pair: ComparedPair,
  comparison: Comparison,
): string {
  if (why.reason !== 'too-few') return unavailableWords(why);
  if (name === 'feedback') return rareWords(why, pair, comparison);
  const what = name === 'score' || name === 'hitRate' ? 'scored balls' : 'swings';
  return `${why.have} of at least ${why.need} ${what} with each kit`;
}

/** Which kind of ball is too rare: the accurate or the others, and with which kit. */
function rareWords(
  { have, need }: Extract<Unavailable, { reason: 'too-few' }>,
  pair: ComparedPair,
  { measures: { hitRate }, n }: Comparison,
): string {
  const kinds = (['smaller', 'larger'] as const).flatMap((kit: Kit) => {
    const share = hitRate[kit];
    if (isUnavailable(share)) return [];
    return [
      { kit, balls: share * n[kit], did: 'got full points' },
      { kit, balls: (1 - share) * n[kit], did: 'missed full points' },
    ];
  });
  if (kinds.length < 4) return 'too few balls are scored';
  const { kit, did } = kinds.reduce((rarest, one) => (one.balls < rarest.balls ? one : rarest));
  const balls = have === 0 ? 'no ball' : `only ${have === 1 ? '1 ball' : `${have} balls`}`;
  return `${balls} with ${nameOf(pair, letterOf(pair, kit))} ${did}, and ${need} are needed`;
}
