import type { PictureSpec } from '../pictures/picture-spec.ts';
import { bothFunnels } from './both-funnels.tsx';
import { bothScores } from './both-scores.tsx';
import { bothSpreads } from './both-spreads.tsx';
import type { Letter } from './comparable.ts';
import type { ComparedPair } from './compared-pair.ts';
import type { DrawnPair, DrawnSide } from './drawn-pair.ts';
import { nameOf } from './pair-kits.ts';
import type { Compared } from './worker-words.ts';

/** The pictures of a comparison in the order of reading. */
export function bothPictures({ sides, comparison }: Compared, pair: ComparedPair): PictureSpec[] {
  const side = (letter: Letter): DrawnSide => {
    const name = nameOf(pair, letter);
    return {
      ...sides[pair.kits[letter].kit],
      name: name === letter ? letter : `${letter}, ${name}`,
    };
  };
  const drawn: DrawnPair = {
    sides: { A: side('A'), B: side('B') },
    accurateFrom: comparison.accurateFrom,
  };
  return [bothFunnels(drawn), bothScores(drawn), bothSpreads(drawn)];
}
