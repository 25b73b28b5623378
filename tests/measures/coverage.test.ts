import { expect, test } from 'vitest';
import { COVERAGE_CASES, coverageOf } from './coverage-cases.ts';

// `npm run operating -- 400 200 coverage` prints all cases with 10, 20 and 40 swings. Here those that are quick and not
// checked beside their measure. 200 sets of 20: the standard error of 90 % is 2.1 %, of 98 % it is 1 %.
const SETS = 200;
const QUICK =
  /^(mid-swing|carry-over|geometry|elbow|coupling|area|visited|mean score, varied|hit rate|Hedges|spread by class|landing|mean reach|spread of reach)/;
const CASES = COVERAGE_CASES.filter(({ name }) => QUICK.test(name));

test('there are such cases', () => {
  expect(CASES.length).toBeGreaterThan(20);
});

test.each(CASES.map((measure) => [measure.name, measure] as const))(
  '95 %% intervals hold the truth 90 to 98 times in 100: %s',
  { timeout: 60_000 },
  (_, measure) => {
    const { held, known } = coverageOf(measure, measure.truth(), 20, SETS);
    expect(known).toBe(100);
    expect(held).toBeGreaterThanOrEqual(90 - 2 * 2.1);
    expect(held).toBeLessThanOrEqual(98 + 2);
  },
);
