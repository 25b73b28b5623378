import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { INSTANT_COLUMNS } from '../../src/core/exports/instant-table.ts';
import { EXPORTED_MEASURES } from '../../src/core/exports/measure-columns.ts';
import { SAMPLE_COLUMNS } from '../../src/core/exports/sample-table.ts';
import { SET_COLUMNS } from '../../src/core/exports/set-table.ts';
import { SWING_COLUMNS } from '../../src/core/exports/swing-table.ts';

const FORMAT = readFileSync(new URL('../../recorded-streams/FORMAT.md', import.meta.url), 'utf8');

it.each([
  ['swing', SWING_COLUMNS.length],
  ['set', SET_COLUMNS.length],
  ['instant', INSTANT_COLUMNS.length],
  ['sample', SAMPLE_COLUMNS.length],
])('FORMAT.md knows how many columns the table %s has', (table, count) => {
  const row = FORMAT.split('\n').find((line) => line.startsWith(`| \`${table}\` |`));
  expect(row?.split('|')[3]?.trim()).toBe(String(count));
});

it('FORMAT.md lists every exported measure with its meaning, in order', () => {
  const section = FORMAT.slice(FORMAT.indexOf('The measures:'), FORMAT.indexOf('- CSV: RFC 4180'));
  const lines = EXPORTED_MEASURES.map(({ name, meaning }) => `- \`${name}\`: ${meaning}`);
  expect(section.split('\n').filter((line) => line.startsWith('- '))).toEqual(lines);
});
