/**
 * How many different things m rows would show, on average over all choices of m from n rows:
 *   sum over things of 1 - C(n - f, m)/C(n, m),  f the rows that show it
 * @param frequencies rows that show each thing, whole numbers up to n @param n rows @param m at most n
 * @throws RangeError when m is not a whole number from 1 to n
 * Source: Hurlbert 1971, doi 10.2307/1934145; for rows: Colwell, Mao & Chang 2004, doi 10.1890/03-0557
 *   (both from memory).
 * Checked: tests/statistics/rarefaction.test.ts, all choices counted
 */
export function rarefiedCount(frequencies: ArrayLike<number>, n: number, m: number): number {
  if (!(Number.isInteger(m) && m >= 1 && m <= n))
    throw new RangeError(`Rarefying ${n} rows to ${m}: give a whole number from 1 to ${n}`);
  const missed = missedShares(n, m);
  let count = 0;
  for (let i = 0; i < frequencies.length; i++) count += 1 - missed[frequencies[i]!]!;
  return count;
}

/** C(n - f, m)/C(n, m) for f = 0..n. */
function missedShares(n: number, m: number): Float64Array {
  const shares = new Float64Array(n + 1);
  shares[0] = 1;
  for (let f = 1; f <= n - m; f++) shares[f] = shares[f - 1]! * ((n - f + 1 - m) / (n - f + 1));
  return shares;
}
