/**
 * Limits and words of what compares sets: two conditions, the order within a set, the weeks. As thresholds.ts, which
 * has those of a single set. Limits marked "common practice" have no source.
 */

/** What two conditions are compared by. Kit is "larger" and "smaller": longer or heavier, and its scaled form. */
export const COMPARED = {
  score: {
    label: 'Mean score',
    scale: 'difference',
    favourable: 'higher',
    better: 'balls score more',
    why: 'The score is what the movement is for.',
    source: 'design.md section 1',
  },
  hitRate: {
    label: 'Hit rate',
    scale: 'difference',
    favourable: 'higher',
    better: 'more balls are accurate',
    why: 'Children hit more accurately with scaled kit.',
    source: 'Sci Rep 10, 2020, doi 10.1038/s41598-020-59475-5',
  },
  spread: {
    label: 'Spread of reach at contact',
    scale: 'ratio',
    favourable: 'lower',
    better: 'reach at contact is steadier',
    why: 'Reach at contact tells good from poor shots, so it has to be held.',
    source: 'Sci Rep 10, 2020, doi 10.1038/s41598-020-77627-5',
  },
  feedback: {
    label: 'Spread of reach on accurate over that on other balls',
    scale: 'ratio',
    favourable: 'lower',
    better: 'reach tells accurate from other balls more clearly',
    why: 'Steady reach on accurate balls and spread on the others lets the player feel what went wrong.',
    source: 'Sci Rep 10, 2020, doi 10.1038/s41598-020-77627-5',
  },
  narrowing: {
    label: 'Spread of reach left at contact',
    scale: 'ratio',
    favourable: 'lower',
    better: 'reach narrows more toward contact',
    why: 'In a controlled swing the spread of reach falls toward contact.',
    source: 'Sci Rep 10, 2020, doi 10.1038/s41598-020-77627-5',
  },
  distalShare: {
    label: 'Share of forearm and hand in the spread of reach',
    scale: 'difference',
    favourable: 'higher',
    better: 'forearm and hand carry more of the spread',
    why: 'Scaled kit gives children more control by forearm and hand.',
    source: 'Sci Rep 10, 2020, doi 10.1038/s41598-020-77627-5',
  },
  coupling: {
    label: 'Coupling of upper arm and forearm at contact',
    scale: 'difference',
    favourable: 'higher',
    better: 'upper arm and forearm go together more than with the other kit',
    why: 'Coupled segments regulate reach; with kit too large the elbow is held still instead.',
    source: 'Sci Rep 10, 2020, doi 10.1038/s41598-020-59475-5',
  },
  manifold: {
    label: 'Elbow and wrist making up for each other at contact',
    scale: 'difference',
    favourable: 'higher',
    better: 'elbow and wrist make up for each other more',
    why: 'Spread along the uncontrolled manifold leaves reach alone.',
    source: 'Scholz & Schoner 1999, doi 10.1007/s002210050738 (quoted from memory, not looked up)',
  },
  speed: {
    label: 'Speed of the sweet spot at contact',
    scale: 'difference',
    favourable: 'neither',
    better: '',
    why: 'Light kit is faster by itself, and speed is traded for accuracy.',
    source: 'Fitts 1954, doi 10.1037/h0055392 (quoted from memory, not looked up)',
  },
} as const;

export const COMPARISON = {
  limits: {
    /** In each condition; feedback, and elbow and wrist, ask for what MEASURES asks for. */
    minimumN: 10,
    alpha: 0.05,
  },
} as const;

export const DECISION = {
  limits: {
    /** Common practice, no source: a loss of this share of an accurate ball's points is worth a coach's attention. */
    scoreMargin: 0.15,
    /** Common practice, no source: up to half as much again is "no less steady". */
    spreadMargin: 1.5,
    /** Common practice, no source: up to twice is "no less clear". */
    feedbackMargin: 2,
    /** The number of swings asked for would settle it this often if the true difference were the one seen. */
    power: 0.9,
    /** Five sessions of forty: asking for more with each is as good as saying that it cannot be settled. */
    mostMoreSwings: 200,
  },
  words: {
    answers: {
      'scale-down': 'Scale down: the smaller kit serves this player better.',
      'step-up': 'Step up: the larger kit serves this player as well or better.',
      'stay-larger': 'Stay with the larger kit: the smaller one is not needed.',
      'stay-smaller': 'Stay with the smaller kit: it serves this player better.',
      torn: 'Stay for now: the two speak against each other, and that is for the coach to weigh.',
      'not-enough': 'Not enough yet to say which kit serves this player better.',
    },
    equal:
      'Nothing is shown to be better with the smaller kit, and the larger is no worse in score, steadiness of reach and clearness of feedback.',
    equalPart: 'the larger kit is no worse in score, steadiness of reach and clearness of feedback',
    open: {
      score: 'it is still open whether the score would suffer',
      spread: 'it is still open whether reach would be less steady',
      feedback: 'it is still open whether reach would tell accurate from other balls less clearly',
    },
    noDifference: 'no difference shown yet',
    unsettled: 'More swings like these are not known to settle it.',
    alike: 'all balls score alike, so a target of another size would tell more',
    rare: 'too few balls are accurate, or too few are not, to compare how clearly reach tells them apart',
    unscored: 'too few balls are scored',
    advice: 'This is advice; the coach decides.',
  },
} as const;

export const ORDER_EFFECTS = {
  limits: {
    /** Common practice, no source. */
    minimumN: 10,
    /** Over the three slopes together (Holm). */
    alpha: 0.05,
  },
  words: {
    reach: {
      question: 'Not known whether reach drifts:',
      rises: 'Reach grows as the set goes on.',
      falls: 'Reach shrinks as the set goes on.',
      none: 'Reach: no drift seen.',
    },
    speed: {
      question: 'Not known whether speed drifts:',
      rises: 'Speed rises as the set goes on.',
      falls: 'Speed falls as the set goes on.',
      none: 'Speed: no drift seen.',
    },
    score: {
      question: 'Not known whether the score drifts:',
      rises: 'The score rises as the set goes on.',
      falls: 'The score falls as the set goes on.',
      none: 'Score: no drift seen.',
    },
  },
} as const;

export const TREND = {
  limits: {
    /** Swings of a session: five in each half. */
    sessionMinimumN: 10,
    /** Fewer sessions give no slope, no reliability and no smallest change worth the name. */
    minimumSessions: 6,
    /** Over all measures together (Holm). */
    alpha: 0.05,
  },
  words: {
    subjects: {
      meanReach: 'Mean reach',
      spread: 'Spread of reach at contact',
      narrowing: 'Spread of reach left at contact',
      score: 'Mean score',
    },
    rises: 'rises over the weeks',
    falls: 'falls over the weeks',
    none: 'shows no trend over the weeks',
    question: 'not known whether it changes over the weeks:',
    lastChanged: 'the last session differs from the one before by more than chance between swings',
    lastAlike: 'the last session differs from the one before no more than swings do by chance',
  },
} as const;
