import { expect, it } from 'vitest';
import { mutantsIn, withMutant } from './mutants-in.ts';

/** All texts with one mutant each. */
const mutated = (source: string) => mutantsIn(source).map((mutant) => withMutant(source, mutant));

it.each([
  ['a + b', ['a - b']],
  ['a *= b', ['a /= b']],
  ['a < b', ['a <= b', 'a >= b']],
  ['a === b', ['a !== b']],
  ['a && b', ['a || b']],
  ['-a', ['a']],
  ['!a', ['a']],
  ['x = true', ['x = false']],
  ['f(3)', [';', 'f(4)']],
  ['x = 0xff', ['x = 256']],
  ['x = 0.5', ['x = 0.55']],
  ['x = 50', ['x = 55']],
])('mutantsIn changes %s', (source, expected) => {
  expect(mutated(source)).toEqual(expected);
});

it('mutantsIn removes the return under a condition and keeps the last one', () => {
  expect(mutated('function f(a) { if (a) return b; return c; }')).toEqual([
    'function f(a) { if (a) ; return c; }',
  ]);
});

it.each([
  ['a comment', '/** 3 + 4 */ // true'],
  ['a type', 'type A = 3 | true; let x: -1; f as 4;'],
  ['an import', "import { a } from './a.ts'; export { a };"],
  ['what is thrown', 'if (a) throw new RangeError(words(n + 1, -n));'],
  ['a joined text', "x = a + 'b'"],
  ['a key', 'x = { 3: a }'],
])('mutantsIn leaves %s alone', (_, source) => {
  expect(mutantsIn(source)).toEqual([]);
});

it('mutantsIn gives the line and the change in words', () => {
  const [mutant] = mutantsIn('let a;\n\n  a = b - c;\n');
  expect(mutant).toMatchObject({ line: 3, change: 'b - c  ->  b + c' });
});
