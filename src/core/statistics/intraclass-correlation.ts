import { fQuantile } from './distributions.ts';
import { CONFIDENCE, checkLevel, type Estimate, groupFault, type Unavailable } from './estimate.ts';
import { checkedMean } from './moments.ts';

/**
 * Form of the coefficient: 1 each subject has its own raters (or sessions), 2 the same raters drawn
 * from many, 3 just these raters; then one rating, or the mean of all k.
 */
export type IccForm = '1,1' | '2,1' | '3,1' | '1,k' | '2,k' | '3,k';

interface MeanSquares {
  /** Subjects, raters. */
  readonly n: number;
  readonly k: number;
  readonly betweenSubjects: number;
  readonly withinSubjects: number;
  readonly betweenRaters: number;
  readonly error: number;
}

interface Ends {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

// Residues smaller than this share of the variance are rounding.
const LEAST_ERROR_SHARE = 1e-12;

/**
 * Intraclass correlation: which share of the variance is between subjects, not between ratings
 * (sessions, halves) of one subject. May be negative.
 * @param ratings one row per subject, k ratings each; at least three subjects, two ratings
 * @returns `n` is the number of subjects; 'collinear' when the ratings agree without residue (up to
 *   a constant, except in form 1), 'no-spread' when all ratings are alike
 * @throws RangeError when the rows differ in length
 * Source: Shrout & Fleiss 1979, doi 10.1037/0033-2909.86.2.420.
 * Checked: tests/statistics/intraclass-correlation.test.ts
 */
export function intraclassCorrelation(
  ratings: readonly ArrayLike<number>[],
  form: IccForm,
  level = CONFIDENCE,
): Estimate | Unavailable {
  checkLevel(level);
  if (ratings.length < 3) return { reason: 'too-few', need: 3, have: ratings.length };
  const k = ratings[0]!.length;
  const odd = ratings.findIndex((row) => row.length !== k);
  if (odd >= 0)
    throw new RangeError(`Subject ${odd} has ${ratings[odd]!.length} ratings, the first ${k}`);
  const fault = groupFault(2, ratings);
  if (fault) return fault;

  const squares = meanSquares(ratings);
  const residue = form.startsWith('1') ? squares.withinSubjects : squares.error;
  if (squares.betweenSubjects + squares.withinSubjects === 0) return { reason: 'no-spread' };
  if (residue <= LEAST_ERROR_SHARE * (squares.betweenSubjects + squares.withinSubjects))
    return { reason: 'collinear' };
  const single = form.startsWith('2')
    ? sameRandomRaters(squares, level)
    : ratioForm(squares, residue, form.startsWith('1'), level);
  const raise = (icc: number) => (form.endsWith('k') ? spearmanBrown(icc, k) : icc);
  return {
    value: raise(single.value),
    low: raise(single.low),
    high: raise(single.high),
    level,
    n: squares.n,
  };
}

/**
 * Reliability of a measurement `times` as long, k r / (1 + (k - 1) r).
 * Source: Spearman 1910; Brown 1910.  Checked: tests/statistics/intraclass-correlation.test.ts
 */
export function spearmanBrown(reliability: number, times: number): number {
  return (times * reliability) / (1 + (times - 1) * reliability);
}

/** Forms 1 and 3: (F - 1)/(F + k - 1) of one F ratio, its interval from the F distribution. */
function ratioForm(
  { n, k, betweenSubjects }: MeanSquares,
  residue: number,
  ownRaters: boolean,
  level: number,
): Ends {
  const f = betweenSubjects / residue;
  const df1 = n - 1;
  const df2 = ownRaters ? n * (k - 1) : (n - 1) * (k - 1);
  const icc = (ratio: number) => (ratio - 1) / (ratio + k - 1);
  const p = (1 + level) / 2;
  return {
    value: icc(f),
    low: icc(f / fQuantile(p, df1, df2)),
    high: icc(f * fQuantile(p, df2, df1)),
  };
}

/** Form 2, its interval with Satterthwaite's degrees of freedom v. */
function sameRandomRaters(squares: MeanSquares, level: number): Ends {
  const { n, k, betweenSubjects: bms, betweenRaters: jms, error: ems } = squares;
  const value = (bms - ems) / (bms + (k - 1) * ems + (k * (jms - ems)) / n);
  const fj = jms / ems;
  const raters = k * value * fj;
  const rest = n * (1 + (k - 1) * value) - k * value;
  const v = ((k - 1) * (n - 1) * (raters + rest) ** 2) / ((n - 1) * raters ** 2 + rest ** 2);
  const p = (1 + level) / 2;
  const fLow = fQuantile(p, n - 1, v);
  const fHigh = fQuantile(p, v, n - 1);
  const others = k * jms + (k * n - k - n) * ems;
  return {
    value,
    low: (n * (bms - fLow * ems)) / (fLow * others + n * bms),
    high: (n * (fHigh * bms - ems)) / (others + n * fHigh * bms),
  };
}

function meanSquares(ratings: readonly ArrayLike<number>[]): MeanSquares {
  const n = ratings.length;
  const k = ratings[0]!.length;
  const subjectMeans = ratings.map(checkedMean);
  const raterMeans = Array.from({ length: k }, (_, j) =>
    checkedMean(ratings.map((row) => row[j]!)),
  );
  const grandMean = checkedMean(subjectMeans);
  let within = 0;
  let error = 0;
  for (const [i, row] of ratings.entries())
    for (let j = 0; j < k; j++) {
      within += (row[j]! - subjectMeans[i]!) ** 2;
      error += (row[j]! - subjectMeans[i]! - raterMeans[j]! + grandMean) ** 2;
    }
  const squaresOf = (means: readonly number[]) =>
    means.reduce((sum, value) => sum + (value - grandMean) ** 2, 0);
  return {
    n,
    k,
    betweenSubjects: (k * squaresOf(subjectMeans)) / (n - 1),
    withinSubjects: within / (n * (k - 1)),
    betweenRaters: (n * squaresOf(raterMeans)) / (k - 1),
    error: error / ((n - 1) * (k - 1)),
  };
}
