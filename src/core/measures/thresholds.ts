import type { Unavailable } from '../statistics/estimate.ts';

/**
 * The one table of what the measures call what: per measure its `limits` (with the reason beside each)
 * and the `words` a coach reads. A measure that is added gets an entry of its own.
 * Words are parts of a sentence without full stop, unless they end in one.
 */
export const MEASURES = {
  funnel: {
    limits: {
      /** Below it no bootstrap interval is given (LEAST_BOOTSTRAP_ROWS). */
      minimumN: 10,
      /** Mid-swing is fixed beforehand: choosing the widest instant and then testing it would find narrowing in anything. */
      midSwingPercent: 50,
      /** A spread that stays above nine tenths of the widest is no funnel worth a coach's attention. */
      narrowingAtMost: 0.9,
      /**
       * A swing that only carries its deviation on, measured with a floor of a third of its spread at both
       * instants, still correlates by 1 / (1 + 1/9) = 0.9.
       */
      carriedFrom: 0.9,
      /** Observed over predicted spread: 1 is what geometry alone gives; the prediction is good to some 5 %. */
      geometryAtMost: 0.95,
      /** Asking for more swings than this is as good as saying that narrowing cannot be shown. */
      mostMoreSwings: 100,
    },
    words: {
      shown: 'Reach narrows toward contact.',
      notShown: 'Not shown that reach narrows toward contact:',
      notYet: 'Not shown yet that reach narrows toward contact:',
      /** What each guard says when the data speak against it, and when they leave it open. */
      guards: {
        floor: {
          contradicts: 'its spread is no larger than the error of measurement',
          undecided: '',
        },
        narrowing: {
          contradicts: 'its spread at contact is close to the widest of the swing',
          undecided: 'its spread at contact may still be close to the widest of the swing',
        },
        midToContact: {
          contradicts: 'its spread at contact is no smaller than at mid-swing',
          undecided: 'that it is smaller at contact than at mid-swing could be chance',
        },
        milliseconds: {
          contradicts: 'counted in milliseconds before contact it does not narrow',
          undecided: 'counted in milliseconds before contact the narrowing could be chance',
        },
        carryOver: {
          contradicts: 'what is off at mid-swing is still off at contact',
          undecided: 'what is off at mid-swing may still be off at contact',
        },
        timing: {
          contradicts: 'swings that differ in their timing alone would look the same',
          undecided: 'swings that differ in their timing alone could look the same',
        },
        geometry: {
          contradicts: 'the posture of the arm at contact accounts for it without any steering',
          undecided: 'the posture of the arm at contact could account for it without any steering',
        },
      },
    },
  },
} as const;

/** "About 12 more swings are needed." */
export function moreSwingsWords(more: number): string {
  return more === 1 ? 'About 1 more swing is needed.' : `About ${more} more swings are needed.`;
}

/** Why a number is missing, as part of a sentence. */
export function unavailableWords(why: Unavailable): string {
  switch (why.reason) {
    case 'too-few':
      return `${why.have} of at least ${why.need} swings`;
    case 'not-finite':
      return 'a swing has a value missing';
    case 'no-spread':
      return 'all swings are alike';
    case 'collinear':
      return 'one column of numbers follows from the others';
    case 'no-direction':
      return 'the spread is the same in every direction';
    case 'separated':
      return 'the groups do not overlap, so the uncertainty cannot be seen';
    case 'unstable':
    case 'one-sided':
      return 'too few different swings to say how sure it is';
  }
}
