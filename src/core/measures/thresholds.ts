import type { Unavailable } from '../statistics/estimate.ts';

/**
 * The one table of what the measures of a set call what: per measure its `limits` (with the reason beside each) and
 * the `words` a coach reads. A measure that is added gets an entry of its own; comparisons of sets have theirs in
 * comparison-words.ts.
 * Limits marked "common practice" have no source. Words are parts of a sentence without full stop, unless they
 * end in one; `question` is what is said up to the reason when there is no answer.
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
      /**
       * Narrowing is shown only when all guards agree, so that each may err once in twenty for the whole to err no
       * more often (intersection-union test: Berger 1982, doi 10.1080/00401706.1982.10487790, from memory); the
       * upper end of a 90 % interval does. The other guards are easily passed and keep 95 %.
       */
      geometryLevel: 0.9,
      /** Asking for more swings than this is as good as saying that narrowing cannot be shown. */
      mostMoreSwings: 100,
    },
    words: {
      shown: 'Reach narrows toward contact.',
      notShown: 'Not shown that reach narrows toward contact:',
      notYet: 'Not shown yet that reach narrows toward contact:',
      /** It does narrow, but something else than steering may do it. */
      notSteered:
        'Swings do get more alike toward contact, but that they are steered is not shown:',
      notSteeredYet:
        'Swings do get more alike toward contact, but that they are steered is not shown yet:',
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
          contradicts:
            'the posture of the arm at contact does that by itself, as a stretched arm does, which is neither good nor bad',
          undecided:
            'the posture of the arm at contact could do that by itself, as a stretched arm does',
        },
      },
    },
  },
  shares: {
    limits: {
      /** Below it no bootstrap interval is given (LEAST_BOOTSTRAP_ROWS). */
      minimumN: 10,
      /** More than half of the spread is most of it. */
      halfway: 0.5,
    },
    words: {
      question: 'Not known which part of the arm carries the spread of reach:',
      distal: 'Forearm and hand carry most of the spread of reach.',
      proximal: 'The upper arm carries most of the spread of reach.',
      undecided: 'Not shown which part of the arm carries most of the spread of reach.',
    },
  },
  handOver: {
    limits: {
      minimumN: 10,
      /**
       * Common practice, no source: were the whole spread to pass from one segment to another evenly over the
       * last three tenths, each tenth would see a third of it.
       */
      abruptFrom: 1 / 3,
      /** The largest of several jumps has a skew spread: at 95 %, 4.8 % of jumps at the limit are called gradual. */
      verdictLevel: 0.97,
    },
    words: {
      question: 'Not known whether a part of the arm takes over abruptly before contact:',
      abrupt:
        'Shortly before contact the spread passes abruptly from one part of the arm to another.',
      gradual: 'No part of the arm takes over the spread abruptly before contact.',
      undecided: 'Not shown whether a part of the arm takes over abruptly before contact.',
    },
  },
  coupling: {
    limits: {
      minimumN: 10,
      /** With 95 % a null is called coupling in a good 5 % of sets: Fisher's interval is a little too short. */
      verdictLevel: 0.97,
    },
    words: {
      question: 'Not known whether upper arm and forearm work together:',
      coupled: 'Upper arm and forearm work together at contact: when one is off, the other is too.',
      undecided: 'Not shown that upper arm and forearm work together at contact.',
    },
  },
  freezing: {
    limits: {
      minimumN: 10,
      /** Common practice, no source: an elbow that moves less than this in a swing is held still. */
      frozenBelowDeg: 20,
    },
    words: {
      question: 'Not known whether the elbow is held still:',
      frozen: 'The elbow is held nearly still through the swing.',
      moving: 'The elbow moves in the swing.',
      undecided: 'Not shown whether the elbow is held still.',
    },
  },
  effectiveDimension: { limits: { minimumN: 10 } },
  stateSpaceArea: {
    limits: {
      minimumN: 10,
      coverage: 0.95,
      /** Common practice, no source: about twice what a heading is off. */
      cellDeg: 5,
      /**
       * Less than half of the minimum n: with four the interval of ten swings holds the truth 92 to 97 % of the time,
       * with eight 81 to 95 %, since each swing left out then changes too much.
       */
      rarefiedTo: 4,
    },
  },
  manifold: {
    limits: {
      /** 15 to 20 steps of walking: Rosenblatt & Hurt 2019, doi 10.1016/j.jbiomech.2019.01.042 (doi from memory). */
      minimumN: 15,
      /** Variances of finger force settle with 10 to 14 trials: Freitas et al. 2019, Exp Brain Res 237:453. */
      classMinimumN: 10,
      alpha: 0.05,
      /** Common practice, no source: below half, reach varies by other things than the angles in the plane. */
      explainedFrom: 0.5,
    },
    words: {
      question: 'Not known whether elbow and wrist make up for each other:',
      steadied: 'Elbow and wrist make up for each other so that reach at contact stays steady.',
      undecided: 'Not shown that elbow and wrist make up for each other at contact.',
      unexplained:
        'Not shown that elbow and wrist make up most of the spread of reach at contact, so that nothing is said about them.',
    },
  },
  accuracySplit: {
    limits: {
      /** In the accurate and in the poor class each; below it a bootstrap of axes says little. */
      minimumN: 10,
      alpha: 0.05,
      /** Common practice, no source: nearer to right angles than to parallel. */
      crossedFromDeg: 45,
    },
    lacks: (have: number, need: number) =>
      `accurate and poor balls are compared, ${need} of each at least; of the rarer there are ${have}`,
    words: {
      question: 'Not known whether the arm varies differently on accurate and poor balls:',
      crossed:
        'On accurate balls elbow and wrist vary so that reach stays the same, on poor ones across that.',
      crossedByScore:
        'On accurate balls elbow and wrist vary so that reach stays the same, on poor ones across that. A score that depends on reach does this by itself; more than that is not shown.',
      undecided:
        'Not shown that elbow and wrist vary in another direction on accurate than on poor balls.',
    },
  },
  sweetSpot: {
    limits: {
      /** Local parabolas over half of them then have a degree of freedom to spare at either end. */
      minimumN: 15,
      /** Stricter than 5 %: with a score that rises and then stays the test errs at its full level. */
      alpha: 0.04,
      /** Points below the best expected score that still count as sweet. */
      withinPoints: 1,
    },
    lacks: (have: number, need: number) =>
      `${have === 0 ? 'no ball has' : have === 1 ? 'only 1 ball has' : `only ${have} balls have`} a score; ${need} are needed`,
    words: {
      question: 'No sweet spot found yet:',
      found: 'Sweet spot found: the score falls off with shorter and with longer reach.',
      flat: 'No sweet spot found yet: it is not shown that the score depends on reach.',
      oneSided:
        'No sweet spot found yet: the score goes with reach, but it is not shown to fall off on both sides.',
    },
  },
  feedback: {
    limits: {
      /** Accurate balls, and balls that are not, each. */
      minimumN: 8,
      alpha: 0.05,
    },
    lacks: (have: number, need: number) =>
      `accurate balls are compared with the others, ${need} of each at least; of the rarer there are ${have}`,
    words: {
      question: 'Not known whether reach tells accurate from other balls:',
      distinct:
        'Reach is steadier on accurate balls than on the others, so that it tells them apart.',
      reversed: 'Reach is less steady on accurate balls than on the others.',
      undecided: 'Not shown that reach is steadier on accurate balls than on the others.',
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
