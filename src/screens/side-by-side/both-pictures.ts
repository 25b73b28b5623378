import type { PictureSpec } from '../pictures/picture-spec.ts';
import { bothFunnels } from './both-funnels.tsx';
import { bothScores } from './both-scores.tsx';
import { bothSpreads } from './both-spreads.tsx';
import type { ComparedPair } from './compared-pair.ts';
import type { DrawnPair } from './drawn-pair.ts';
import type { Compared } from './worker-words.ts';

/** The pictures of a comparison in the order of reading. */
export function bothPictures(
  { sides, comparison }: Compared,
  { kits }: ComparedPair,
): PictureSpec[] {
  const pair: DrawnPair = {
    sides: { A: sides[kits.A.kit], B: sides[kits.B.kit] },
    accurateFrom: comparison.accurateFrom,
  };
  return [bothFunnels(pair), bothScores(pair), bothSpreads(pair)];
}
