import { describe, expect, it } from 'vitest';
import { recoveredWords } from '../../src/screens/start/start-model.ts';

const set = (swings: number, untilUs: number) => ({ setId: 's', swings, untilUs });

describe('recoveredWords', () => {
  it.each([
    [[set(23, 161.9e6)], '1 set was interrupted; 23 swings up to 2:41 recovered.'],
    [[set(1, 5e6)], '1 set was interrupted; 1 swing up to 0:05 recovered.'],
    [
      [set(0, 0), set(700, 4211e6)],
      '2 sets were interrupted; 0 swings up to 0:00 and 700 swings up to 70:11 recovered.',
    ],
  ])('counts sets, swings and minutes', (sets, words) => {
    expect(recoveredWords(sets)).toBe(words);
  });
});
