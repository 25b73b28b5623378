import { describe, expect, it } from 'vitest';
import { decide } from '../../src/core/measures/decision.ts';
import type { LandingError } from '../../src/core/measures/landing-error.ts';
import type { ReviewedMeasures } from '../../src/core/measures/measure-set.ts';
import type { Score } from '../../src/core/measures/score.ts';
import type { ComparedKits } from '../../src/reports/kit-advice.ts';
import { type PlainSection, plainReport } from '../../src/reports/plain-report.ts';
import type { ReportedSet } from '../../src/reports/reported-set.ts';
import { comparisonOf } from './compared-kits.ts';
import { estimate, reportedDemo } from './reported-demo.ts';

const DEMO = reportedDemo();

function having(change: Partial<ReviewedMeasures>, set: Partial<ReportedSet> = {}): ReportedSet {
  return { ...DEMO, ...set, measures: { ...DEMO.measures, ...change } };
}

const said = (set: ReportedSet, id: PlainSection['id']) =>
  plainReport(set)
    .sections.find((section) => section.id === id)!
    .words.join(' ');

/** Everything on the page, one sentence a line. */
function allWords(set: ReportedSet): string {
  const { title, facts, sections, cautions } = plainReport(set);
  const words = sections.flatMap((section) => [section.title, ...section.words]);
  return [title, ...facts.flat(), ...words, ...cautions].join('\n');
}

/** Words that need a course in statistics, movement science or this program. */
const JARGON =
  /NaN|undefined|null|\bSD\b|\bCI\b|\bp\b ?[=<]|\bn =|BCa|bootstrap|jackknife|Holm|variance|correlation|manifold|UCM|covariance|sensor-gap|condition|proximal|distal|hypothes|significan|elemental|effect size/i;

const off = (value: number, low: number, high: number) => ({
  constantM: estimate(value, low, high, 20),
  variableM: estimate(0.3, 0.2, 0.4, 20),
  absoluteM: estimate(0.3, 0.2, 0.4, 20),
});

const landing = (beyond: LandingError['beyond'], left: LandingError['left']): LandingError => ({
  n: 20,
  beyond,
  left,
  radialM: estimate(0.4, 0.3, 0.5, 20),
  bivariateVariableM: estimate(0.4, 0.3, 0.5, 20),
});

const SCORE: Score = {
  n: 12,
  mean: estimate(9.4, 8.5, 10.3, 12),
  hitRate: estimate(0.75, 0.467, 0.911, 12),
  landing: { reason: 'too-few', need: 2, have: 0 },
};

/** Two kits of which the smaller scores better, by what `decide` is told. */
function twoKits(change: Partial<ComparedKits> = {}): ComparedKits {
  const comparison = comparisonOf({ score: 'smaller', coupling: 'smaller' });
  return {
    kits: {
      smaller: { implement: 'short racket', ball: 'soft ball', feed: '' },
      larger: { implement: 'full racket', ball: 'hard ball', feed: '' },
    },
    comparison,
    decision: decide(comparison, 'larger'),
    days: 1,
    sets: 1,
    ...change,
  };
}

describe('the plain page', () => {
  it('says who, when, with what and how many', () => {
    const { title, facts } = plainReport(DEMO);
    expect(title).toBe('Heron: what 12 swings show');
    expect(Object.fromEntries(facts)).toMatchObject({
      'Player (a made-up name)': 'Heron, right-handed',
      When: '10 January 2026',
      'With what': '580 mm racket, larger, slower training ball',
      Swings: '12 recorded, 12 of them count here',
    });
  });

  it('says hits as counts with what very many balls would give, a mean never above full points', () => {
    const words = said(having({ score: SCORE }), 'hits');
    expect(words).toContain('9 of 12 scored balls got full points (10)');
    expect(words).toContain('very likely 47 to 91 in 100');
    expect(words).toContain('9.4 of 10 points on average (very likely 8.5 to 10.0)');
  });

  it('says where balls lie off the target only when an interval lies on one side', () => {
    const beyond = off(0.25, 0.1, 0.4);
    const right = off(-0.1, -0.18, -0.02);
    const unclear = off(0.1, -0.05, 0.25);
    const lies = (error: LandingError) =>
      said(having({ score: { ...SCORE, landing: error } }), 'hits');
    expect(lies(landing(beyond, right))).toContain(
      'On average the 20 balls seen to land lay 25.0 cm beyond and 10.0 cm right of the middle',
    );
    expect(lies(landing(off(-0.25, -0.4, -0.1), unclear))).toContain(
      'lay 25.0 cm short of the middle',
    );
    expect(lies(landing(unclear, unclear))).toContain('no lean to one side is shown');
  });

  it('says balls without a score, and none at all', () => {
    expect(said(having({ score: { ...SCORE, n: 10 } }), 'hits')).toContain(
      '2 of the 12 swings have no score.',
    );
    const none = { reason: 'too-few', need: 1, have: 0 } as const;
    expect(
      said(having({ score: { ...SCORE, n: 0, mean: none, hitRate: none } }), 'hits'),
    ).toContain('The balls were not scored.');
  });

  it('says how steady reach was in centimetres, and nothing of the player within the floor', () => {
    const reach = {
      n: 12,
      meanM: estimate(0.842, 0.83, 0.854, 12),
      spreadM: estimate(0.019, 0.014, 0.025, 12),
    };
    const floor = (metres: number) => ({
      view: {
        ...DEMO.view,
        funnel: { ...DEMO.view.funnel, floorM: new Float64Array(101).fill(metres) },
      },
    });
    const steady = said(having({ reach }, floor(0.003)), 'reach');
    expect(steady).toContain('Here it was 84.2 cm on average');
    expect(steady).toContain('was 1.9 cm (very likely 1.4 to 2.5 cm)');
    expect(steady).toContain('The sensors alone would show a spread of about 0.3 cm.');
    const blind = said(having({ reach }, floor(0.02)), 'reach');
    expect(blind).toContain('nothing can be said about how steady the player is');
  });

  it('says why reach is not known, with the swings that are lacking', () => {
    const why = { reason: 'too-few', need: 2, have: 1 } as const;
    const words = said(having({ reach: { n: 1, meanM: why, spreadM: why } }), 'reach');
    expect(words).toContain('Here it is not known: 1 of at least 2 swings.');
  });

  it('gives the verdicts as the measures give them', () => {
    const { funnel, arm } = DEMO.measures;
    expect(said(DEMO, 'narrowing')).toContain(funnel.verdict.words);
    expect(said(DEMO, 'arm')).toContain(arm.verdicts.elbow.words);
  });

  it('says what to try next: the decision of two kits, or that one kit cannot tell', () => {
    expect(said(DEMO, 'next')).toContain('not known whether another suits this player better');
    const words = said({ ...DEMO, kits: twoKits() }, 'next');
    expect(words).toContain('Scale down. Go down to: short racket with soft ball.');
    expect(words).toContain('These are the swings of this set alone');
    expect(said({ ...DEMO, conditions: [[0], [1], [2]] }, 'next')).toContain('3 kinds');
  });

  it('says that two kits are decided from all days, and words a difference as one', () => {
    const words = said({ ...DEMO, kits: twoKits({ days: 2, sets: 2 }) }, 'next');
    expect(words).toContain('all swings of this player with both kits, from 2 sets');
    expect(words).toContain('20 swings with each, on 2 days');
    expect(words).toContain('With short racket, compared with full racket: balls score more; ');
    expect(words).toContain('upper arm and forearm go together more than with the other kit');
    expect(words).toContain('Racket and ball changed together');
  });

  it('says what is uncertain: estimated arms, swings left out, drifts', () => {
    const swings = DEMO.view.swings.map((swing, i) =>
      i === 0 ? { ...swing, discarded: true } : swing,
    );
    const { order } = DEMO.measures;
    const drift = {
      ...order.reach.verdict,
      answer: 'rises',
      words: 'Reach grows as the set goes on.',
    };
    const set = having(
      {
        order: {
          ...order,
          reach: { ...order.reach, verdict: drift as typeof order.reach.verdict },
        },
      },
      {
        view: { ...DEMO.view, swings },
        description: { ...DEMO.description, armEstimatedFromStatureM: 1.3 },
      },
    );
    const words = said(set, 'trust');
    expect(words).toContain('estimated from body height');
    expect(words).toContain('1: left out by the coach');
    expect(words).toContain('Reach grows as the set goes on.');
    expect(plainReport(DEMO).facts.flat().join(' ')).toContain('simulated player');
  });

  it('has no jargon, and a unit or a noun after every number, in every state', () => {
    const why = { reason: 'too-few', need: 10, have: 3 } as const;
    const states = [
      DEMO,
      having({ score: SCORE }),
      { ...DEMO, kits: twoKits() },
      having({ score: why, reach: { n: 3, meanM: why, spreadM: why } }),
    ];
    for (const set of states) {
      expect(allWords(set)).not.toMatch(JARGON);
      expect(allWords(set)).not.toMatch(/\d+\.\d+(?! ?(cm|of|to|points?|\)|m\b| racket))/);
    }
  });
});
