/**
 * Limits and words of the measures of score and accuracy, in the form of thresholds.ts, to be merged there. Limits
 * marked "common practice" have no source.
 */
export const SCORE_MEASURES = {
  score: {
    /** A variance needs two. */
    limits: { minimumN: 2 },
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
        'Elbow and wrist explain little of the spread of reach at contact, so that nothing is said about them.',
    },
  },
  accuracySplit: {
    limits: {
      /** In the accurate and in the poor class each; below it a bootstrap of axes says little. */
      classMinimumN: 10,
      alpha: 0.05,
      /** Common practice, no source: nearer to right angles than to parallel. */
      crossedFromDeg: 45,
    },
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
      /** Stricter than 5 %: a score that rises and then stays is called a peak this often, never less. */
      alpha: 0.04,
      /** Points below the best expected score that still count as sweet. */
      withinPoints: 1,
    },
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
      /** Accurate balls, and balls that are not. */
      classMinimumN: 8,
      alpha: 0.05,
    },
    words: {
      question: 'Not known whether reach tells accurate from other balls:',
      distinct:
        'Reach is steadier on accurate balls than on the others: the player can feel the difference.',
      reversed: 'Reach is less steady on accurate balls than on the others.',
      undecided: 'Not shown that reach is steadier on accurate balls than on the others.',
    },
  },
} as const;
