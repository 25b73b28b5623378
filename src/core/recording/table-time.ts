import type { TimeUnit } from './table-mapping.ts';
import { type ColumnVector, wordsOf } from './table-names.ts';

const TIME_WORDS = /^(t|time|timestamp|sec|secs|seconds|zeit|temps)$/;
/** Counters move forward too. */
const COUNT_WORDS = /^(n|no|nr|i|idx|index|count|counter|frame|row|sample|packet|seq|sequence)$/;
/** What a step of 10 to 4000 rows a second is in each unit: these do not overlap. */
const STEPS: readonly (readonly [TimeUnit, number, number])[] = [
  ['s', 0.00025, 0.1],
  ['ms', 0.25, 100],
  ['us', 250, 100_000],
];

/**
 * The time column and its unit, from names and from how the first rows move forward.
 * @param numbers of the first rows, by column @param doubts is added to, in words
 */
export function guessTime(
  vectors: readonly ColumnVector[],
  numbers: ReadonlyMap<string, Float64Array>,
  doubts: string[],
): { readonly time: string | null; readonly timeUnit: TimeUnit | null } {
  const taken = new Set(vectors.flatMap(({ columns }) => columns));
  const rising = [...numbers].filter(([name, values]) => !taken.has(name) && rises(values));
  const named = rising.find(([name]) => wordsOf(name).some((word) => TIME_WORDS.test(word)));
  const other = rising.find(([name]) => !wordsOf(name).some((word) => COUNT_WORDS.test(word)));
  const found = named ?? other;
  if (found === undefined) {
    doubts.push('No column of times was found: numbers that grow from row to row.');
    return { time: null, timeUnit: null };
  }
  const [time, values] = found;
  if (named === undefined) doubts.push(`'${time}' is taken for the time because it grows.`);
  const step = middleOf(stepsOf(values));
  const timeUnit = STEPS.find(([, least, most]) => step >= least && step <= most)?.[0] ?? null;
  if (timeUnit === null) {
    doubts.push(
      `The unit of the time is not sure: a row every ${step.toPrecision(3)}, where 10 to 4000 rows a second are read.`,
    );
  }
  return { time, timeUnit };
}

function rises(values: Float64Array): boolean {
  return values.length > 1 && stepsOf(values).every((step) => step > 0);
}

function stepsOf(values: Float64Array): Float64Array {
  return values.subarray(1).map((value, i) => value - values[i]!);
}

/** The median, the upper one of two; NaN of nothing. */
export function middleOf(values: Float64Array): number {
  return Float64Array.from(values).sort()[values.length >> 1] ?? Number.NaN;
}
