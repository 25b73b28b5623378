/** Room for a number behind it: a set's name is at most 80 long. */
const LONGEST_STEM = 70;
const ENDINGS = /(\.(csv|tsv|txt|gz))+$/i;

/**
 * A name for the set of a table, after its file: safe as a file name everywhere, and with a number if it is taken.
 * @param taken names of all stored sets
 */
export function freeSetId(fileName: string, taken: readonly string[]): string {
  const safe = fileName
    .replace(ENDINGS, '')
    .normalize('NFKD')
    .replace(/\p{Mark}+/gu, '')
    .replace(/[^A-Za-z0-9._-]+/g, '-')
    .replace(/^[^A-Za-z0-9]+|[-.]+$/g, '')
    .slice(0, LONGEST_STEM);
  const stem = safe === '' ? 'table' : safe;
  // Some file systems do not tell capitals apart.
  const used = new Set(taken.map((setId) => setId.toLowerCase()));
  let setId = stem;
  for (let number = 2; used.has(setId.toLowerCase()); number++) setId = `${stem}-${number}`;
  return setId;
}
