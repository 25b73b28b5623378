import { describe, expect, it } from 'vitest';
import type { Kit } from '../../src/core/measures/comparison-measure.ts';
import { decide } from '../../src/core/measures/decision.ts';
import { kitAdvice } from '../../src/reports/kit-advice.ts';
import { comparisonOf } from './compared-kits.ts';

const kits = {
  smaller: { implement: 'short bat', ball: 'soft', feed: '' },
  larger: { implement: 'full bat', ball: 'soft', feed: '' },
};

function advised(speaking: Parameters<typeof comparisonOf>[0], current: Kit, n = 20) {
  const comparison = comparisonOf(speaking, { smaller: n, larger: n });
  return kitAdvice({ kits, comparison, decision: decide(comparison, current), days: 2, sets: 2 });
}

describe('advice on kit', () => {
  it('says better where the score is shown better, and names the kit', () => {
    const found = advised({ score: 'larger', spread: 'larger' }, 'smaller');
    expect(found).toMatchObject({
      head: 'Step up',
      kit: 'Go up to: full bat with soft.',
      sentence: 'full bat, the larger kit, serves this player better.',
      movement: 'Better with full bat in 1 of 6 signs; in the other 5 no difference is shown.',
      howSure:
        'Of 8 signs compared, for full bat: 2; for short bat: none. 20 swings with each, on 2 days.',
      together: null,
    });
    expect(found.score).toMatch(/^Better with full bat/);
  });

  it('says as well where only the movement is, or nothing', () => {
    const moved = advised({ spread: 'larger' }, 'smaller');
    expect(moved.sentence).toMatch(/as well in score, and the movement is better with it\.$/);
    expect(moved.score).toMatch(/^No difference is shown/);
    expect(advised({}, 'larger')).toMatchObject({
      head: 'Stay',
      kit: 'Stay with: full bat with soft.',
      movement: 'No difference is shown in 6 signs.',
    });
  });

  it('sets score and movement apart where they speak against each other, and changes nothing', () => {
    const torn = advised({ score: 'smaller', coupling: 'larger' }, 'larger');
    expect(torn.head).toBe('Stay');
    expect(torn.sentence).toMatch(/speak against each other/);
    expect(torn.score).toMatch(/^Better with short bat/);
    expect(torn.movement).toMatch(/^Better with full bat/);
  });

  it('names no kit from few swings, and says how many are lacking', () => {
    const few = advised({}, 'larger', 6);
    expect([few.head, few.kit]).toEqual(['Not enough yet', null]);
    expect(few.sentence).toMatch(/at least 4 more swings with each are needed\.$/);
    expect(few.score).toMatch(/^Too few swings to tell \(/);
    expect(few.howSure).toMatch(/6 swings with each, on 2 days\.$/);
  });
});
