import { expect, test } from 'vitest';
import { cellWords } from '../../src/screens/pictures/NumbersTable.tsx';
import { pictureCsv } from '../../src/screens/pictures/picture-csv.ts';

// RFC 4180: CRLF, quotes doubled, fields with commas between quotes.
test('pictureCsv keeps all decimals, quotes what needs it and leaves the unknown empty', () => {
  const csv = pictureCsv({
    columns: [
      { name: 'Reach, cm', digits: 1 },
      { name: 'Say "so"', digits: 0 },
    ],
    rows: [
      [81.123456789, 'upper arm'],
      [null, Number.NaN],
    ],
  });
  expect(csv).toBe('"Reach, cm","Say ""so"""\r\n81.123456789,upper arm\r\n,\r\n');
});

test.each([
  [1.2345, 2, '1.23'],
  [-1.2345, 1, '−1.2'],
  [-0.001, 2, '0.00'],
  [Number.NaN, 2, '–'],
  [null, 2, '–'],
  ['wrist', 2, 'wrist'],
])('a cell of %s with %i decimals reads %s', (cell, digits, words) => {
  expect(cellWords(cell, { name: '', digits })).toBe(words);
});
