import { describe, expect, it } from 'vitest';
import type { MeasureTrend } from '../../src/core/measures/trend.ts';
import { historyPictures } from '../../src/screens/progress/history-pictures.tsx';
import {
  lastDayWords,
  slopeNumbers,
  trendWords,
} from '../../src/screens/progress/progress-words.ts';
import type { ConditionHistory } from '../../src/worker/contract.ts';

const DAY_MS = 24 * 3600 * 1000;
const FIRST_MS = new Date(2026, 4, 4, 15).getTime();

/** Seven days, a week apart, of a spread that falls by 1 mm a week from 3 cm. */
const FALLING: MeasureTrend = {
  values: [0.03, 0.029, 0.028, 0.027, 0.026, 0.025, 0.024],
  n: 7,
  detectability: {
    n: 7,
    reliability: { reason: 'no-spread' },
    sem: { value: 0.001, low: 0.0006, high: 0.002, level: 0.95, n: 7 },
    // 1.96 sqrt(2) times 1 mm
    change: 0.002772,
  },
  perWeek: { value: -0.001, low: -0.0014, high: -0.0006, level: 0.95, n: 7 },
  p: 0.002,
  pHolm: 0.008,
  lastChange: { value: -0.001, beyondChance: false },
  answer: 'falls',
  words: '',
};

const few = { reason: 'too-few', need: 3, have: 2 } as const;
const THIN: MeasureTrend = {
  ...FALLING,
  values: [0.03, 0.028, { reason: 'too-few', need: 10, have: 4 }],
  n: 2,
  detectability: { reason: 'too-few', need: 6, have: 2 },
  perWeek: few,
  p: few,
  pHolm: few,
  lastChange: { reason: 'too-few', need: 6, have: 2 },
  answer: 'unknown',
};

function history(found: MeasureTrend, fullPoints = () => 10): ConditionHistory {
  return {
    implement: 'short racket',
    ball: 'training ball',
    feed: '',
    days: found.values.map((_, week) => ({
      startedAtMs: FIRST_MS + 7 * week * DAY_MS,
      setIds: [`week-${week}`],
      swings: 20,
      fullPoints: fullPoints(),
      lengthM: 0.89,
    })),
    trends: { meanReach: found, spread: found, narrowing: found, score: found },
  };
}

const picture = (of: ConditionHistory, id: string) =>
  historyPictures(of).find((spec) => spec.id === id)!;

describe('the sentence of a measure over the weeks', () => {
  it('says what a shown change means, its size and unit, and how sure it is', () => {
    expect(trendWords('spread', FALLING)).toBe(
      'Reach at contact gets steadier over the weeks, by more than days differ by anyway: −0.10 cm a week (95 % interval −0.14 to −0.06).',
    );
    expect(trendWords('narrowing', FALLING)).toContain('narrows more toward contact');
    expect(trendWords('score', { ...FALLING, answer: 'rises' })).toContain('Balls score more');
    expect(slopeNumbers('spread', FALLING)).toContain('p 0.002, corrected 0.008');
  });

  it('claims nothing where no trend is shown', () => {
    expect(trendWords('spread', { ...FALLING, answer: 'none' })).toBe(
      'No steady rise or fall over the weeks is shown: what there is could come from how days differ anyway.',
    );
  });

  it('says how many days are lacking', () => {
    expect(trendWords('spread', THIN)).toBe(
      'Too few days yet: 2 of at least 6 with 10 swings or more. 4 more days are needed.',
    );
    expect(trendWords('score', { ...THIN, n: 5 })).toBe(
      'Too few days yet: 5 of at least 6 with 10 scored swings or more. 1 more day is needed.',
    );
    expect(slopeNumbers('spread', THIN)).toBe('');
  });

  it('holds the last two days against each other, but never for reach itself', () => {
    expect(lastDayWords('spread', FALLING)).toContain('no more than swings do by chance');
    const jumped = { ...FALLING, lastChange: { value: -0.01, beyondChance: true } };
    expect(lastDayWords('spread', jumped)).toContain('more than chance between swings');
    expect(lastDayWords('meanReach', jumped)).toContain('Not compared from day to day');
    expect(lastDayWords('spread', THIN)).toBeNull();
  });
});

describe('a picture over the weeks', () => {
  it('has a row for each day with the value in the unit of its column', () => {
    const { table } = picture(history(FALLING), 'weeks-spread').views[0]!;
    expect(table.columns[3]!.name).toBe('Spread of reach at contact, cm');
    const [day, sets, swings, value, change] = table.rows[1]!;
    expect([day, sets, swings]).toEqual(['2026-05-11', 1, 20]);
    expect(value).toBeCloseTo(2.9, 12);
    expect(change).toBeCloseTo(0.2772, 12);
  });

  it('of few days has its marks and no band, and says why a day has no value', () => {
    const [view] = picture(history(THIN), 'weeks-spread').views;
    expect(view!.alternative).toBe('2 days. First 3.0 cm, last 2.8 cm.');
    expect(view!.table.rows[2]).toEqual([
      '2026-05-18',
      1,
      20,
      null,
      null,
      '4 of at least 10 swings',
    ]);
  });

  it('of reach itself leaves room for sensors fitted anew: 1 cm on top of the smallest change', () => {
    const alternative = (id: string) => picture(history(FALLING), id).views[0]!.alternative;
    expect(alternative('weeks-spread')).toContain('from 0.28 cm on');
    expect(alternative('weeks-meanreach')).toContain('from 1.28 cm on');
  });

  it('does not hold scores out of five and out of ten against each other', () => {
    let day = 0;
    const mixed = picture(
      history(FALLING, () => (day++ % 2 === 0 ? 5 : 10)),
      'weeks-score',
    );
    expect(mixed.words).toContain(
      'not compared: the most a ball could score was 5 on some, 10 on others',
    );
    expect(mixed.views).toEqual([]);
  });

  it('does not hold reach of days with other lengths against each other', () => {
    const { days, ...rest } = history(FALLING);
    const longer = days.map((day, i) => (i === 3 ? { ...day, lengthM: 0.91 } : day));
    const mixed = { ...rest, days: longer };
    expect(picture(mixed, 'weeks-meanreach').words).toContain('entered as 89.0 to 91.0 cm');
    expect(picture(mixed, 'weeks-meanreach').views).toEqual([]);
    expect(picture(mixed, 'weeks-spread').views).toHaveLength(1);
  });

  it('has nothing to draw without a day that counts, and says how many are needed', () => {
    const none = { ...THIN, values: [few], n: 0 };
    const { views, words } = picture(history(none), 'weeks-spread');
    expect(views).toEqual([]);
    expect(words).toContain('0 of at least 6');
  });
});
