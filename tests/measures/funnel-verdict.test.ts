import { describe, expect, it } from 'vitest';
import type { GuardAnswer, GuardName } from '../../src/core/measures/funnel-guards.ts';
import { judgeFunnel } from '../../src/core/measures/funnel-verdict.ts';
import { measureFunnel } from '../../src/core/measures/measure-funnel.ts';
import type { MeasuredSwing } from '../../src/core/measures/measured-swing.ts';
import { swingsOfModes } from './hand-made-swings.ts';
import { PLAYERS, virtualSet } from './virtual-players.ts';

const OPTIONS = { seed: 7, resamples: 200 };
const AGREES: GuardAnswer = { answer: 'agrees' };
const CONTRADICTS: GuardAnswer = { answer: 'contradicts' };

function verdictWith(others: Partial<Record<GuardName, GuardAnswer>>) {
  return judgeFunnel(20, {
    floor: AGREES,
    narrowing: AGREES,
    midToContact: AGREES,
    milliseconds: AGREES,
    carryOver: AGREES,
    timing: AGREES,
    geometry: AGREES,
    ...others,
  });
}

describe('judgeFunnel', () => {
  it('says that reach narrows only when every guard agrees', () => {
    expect(verdictWith({})).toMatchObject({
      isShown: true,
      failing: [],
      words: 'Reach narrows toward contact.',
    });
    for (const name of Object.keys(PARTS) as GuardName[]) {
      const verdict = verdictWith({ [name]: CONTRADICTS });
      expect(verdict).toMatchObject({ isShown: false, failing: [name], moreSwings: null });
      const doesNarrow = ['carryOver', 'timing', 'geometry'].includes(name);
      expect(verdict.words).toMatch(
        doesNarrow
          ? /^Swings do get more alike toward contact, but that they are steered is not shown: .+\.$/
          : /^Not shown that reach narrows toward contact: .+\.$/,
      );
      expect(verdict.words).toContain(PARTS[name]);
    }
  });

  it('asks for the largest number of swings that an undecided guard needs', () => {
    const verdict = verdictWith({
      midToContact: { answer: 'undecided', moreSwings: 12 },
      geometry: { answer: 'undecided', moreSwings: 30 },
    });
    expect(verdict.moreSwings).toBe(30);
    expect(verdict.words).toBe(
      'Not shown yet that reach narrows toward contact: that it is smaller at contact than at ' +
        'mid-swing could be chance. About 30 more swings are needed.',
    );
  });

  it('asks for none when a guard contradicts, or when one would need too many', () => {
    const undecided = { answer: 'undecided', moreSwings: 12 } as const;
    expect(verdictWith({ timing: undecided, geometry: CONTRADICTS }).moreSwings).toBeNull();
    const hopeless = verdictWith({ timing: { answer: 'undecided', moreSwings: null } });
    expect(hopeless.moreSwings).toBeNull();
    expect(hopeless.words).toMatch(
      /steered is not shown yet: .*timing alone could look the same\.$/,
    );
  });

  it('does not explain away what is not there', () => {
    const { words, failing } = verdictWith({ midToContact: CONTRADICTS, timing: CONTRADICTS });
    expect(failing).toEqual(['midToContact', 'timing']);
    expect(words).not.toContain('timing');
  });

  it('does not say that swings get more alike while that is open', () => {
    const { words } = verdictWith({
      midToContact: { answer: 'undecided', moreSwings: 12 },
      geometry: CONTRADICTS,
    });
    expect(words).toMatch(/^Not shown that reach narrows/);
  });
});

/** A piece of what each guard says. */
const PARTS: Record<GuardName, string> = {
  floor: 'error of measurement',
  narrowing: 'close to the widest',
  midToContact: 'no smaller than at mid-swing',
  milliseconds: 'milliseconds',
  carryOver: 'still off at contact',
  timing: 'timing',
  geometry: 'posture',
};

describe('measureFunnel', () => {
  it('says how many swings are missing below ten', () => {
    for (const [n, more] of [
      [0, '10 more swings are'],
      [1, '9 more swings are'],
      [2, '8 more swings are'],
      [9, '1 more swing is'],
    ] as const) {
      const { verdict, evidence } = measureFunnel(virtualSet(PLAYERS.controlled, n, 1), OPTIONS);
      expect(evidence).toBeNull();
      expect(verdict).toMatchObject({ n, minimumN: 10, isShown: false, moreSwings: 10 - n });
      expect(verdict.words).toContain(`${n} of at least 10 swings. About ${more} needed.`);
    }
  });

  it('shows narrowing for a controlled player and calls it by name', () => {
    const { verdict, guards } = measureFunnel(virtualSet(PLAYERS.controlled, 40, 5), OPTIONS);
    expect(guards).toMatchObject({ geometry: { answer: 'agrees' } });
    expect(verdict.words).toBe('Reach narrows toward contact.');
  });

  it('names what the deviation does in a ballistic player', () => {
    const { verdict } = measureFunnel(virtualSet(PLAYERS.ballistic, 40, 5), OPTIONS);
    expect(verdict.failing).toContain('carryOver');
    expect(verdict.failing).toContain('geometry');
  });

  it('names the posture of an arm that straightens', () => {
    const set = virtualSet(PLAYERS['ballistic, arm straightens'], 40, 5);
    const { verdict } = measureFunnel(set, OPTIONS);
    expect(verdict.words).toContain('posture of the arm');
    expect(verdict.failing).toEqual(['geometry']);
  });

  it('gives only the reason where a reach alike at mid-swing has nothing to carry over', () => {
    const { guards } = measureFunnel(swingsOfModes([(s) => 0.04 * Math.max(0, s - 0.6)]), OPTIONS);
    const unknown = { answer: 'unknown', why: { reason: 'no-spread' } };
    expect(guards).toMatchObject({ midToContact: unknown, carryOver: unknown });
    expect(guards!.carryOver).toEqual(unknown);
  });

  it('gives the same answer for the same seed', () => {
    const set = virtualSet(PLAYERS['loosely controlled'], 20, 3);
    expect(measureFunnel(set, OPTIONS)).toEqual(measureFunnel(set, OPTIONS));
  });

  it.each<[string, MeasuredSwing[], RegExp]>([
    ['constant reach', swingsOfModes([() => 0]), /no larger than the error/],
    ['constant reach without a floor', swingsOfModes([() => 0], 0), /no larger than the error/],
    ['spread within the floor', swingsOfModes([() => 0.003], 0.004), /no larger than the error/],
    // A deviation that only shrinks, identical directions: nothing to carry through the posture.
    ['one deviation that shrinks', swingsOfModes([(s) => 0.03 - 0.02 * s]), /Not shown/],
    ['a deviation that grows', swingsOfModes([(s) => 0.01 + 0.02 * s]), /close to the widest/],
    ['two swings repeated six times', repeated(2, 12), /Not shown/],
    ['one swing repeated', repeated(1, 12), /no larger than the error/],
    ['a missing reach', spoiled('reachCurveM'), /value missing/],
    ['a missing direction', spoiled('directions'), /value missing/],
    ['no data before contact', spoiled('reachBeforeContactM'), /Not shown/],
  ])('has words, never an exception, for %s', (_, swings, words) => {
    const { verdict } = measureFunnel(swings, OPTIONS);
    expect(verdict.isShown).toBe(false);
    expect(verdict.words).toMatch(words);
    expect(verdict.words).not.toMatch(/NaN|undefined|Infinity/);
  });
});

function repeated(different: number, n: number): MeasuredSwing[] {
  const set = virtualSet(PLAYERS.controlled, different, 2);
  return Array.from({ length: n }, (_, i) => set[i % different]!);
}

function spoiled(column: 'reachCurveM' | 'directions' | 'reachBeforeContactM'): MeasuredSwing[] {
  const [first, ...others] = virtualSet(PLAYERS.controlled, 12, 2);
  const spoilt = Float64Array.from(first![column]);
  spoilt[spoilt.length - 1] = Number.NaN;
  return [{ ...first!, [column]: spoilt }, ...others];
}
