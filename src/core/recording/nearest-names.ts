/**
 * The names most like a wanted one, for "did you mean".
 * @param wanted the name that was not found
 * @param names what there is
 * @param count how many to give
 * @returns at most `count` names, most alike first; ties keep the given order
 * Source: edit distance by dynamic programming, Wagner & Fischer 1974, doi 10.1145/321796.321811
 */
export function nearestNames(wanted: string, names: readonly string[], count: number): string[] {
  return names
    .map((name) => ({ name, distance: editDistance(wanted.toLowerCase(), name.toLowerCase()) }))
    .sort((a, b) => a.distance - b.distance)
    .slice(0, count)
    .map(({ name }) => name);
}

/** Fewest insertions, deletions and replacements that turn one text into the other. */
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const replaced = row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(replaced, row[j]! + 1, next[j - 1]! + 1));
    }
    row = next;
  }
  return row[b.length]!;
}
