import { afterAll, describe, expect, it } from 'vitest';
import { csvChunks } from '../../src/core/exports/csv.ts';
import { spreadsheetText } from '../../src/core/exports/spreadsheet-text.ts';
import { columnList } from '../../src/core/exports/table.ts';
import { exportFolder, query } from './duckdb.ts';
import { AWKWARD, sampleKinds } from './tables-of-kinds.ts';

const folder = exportFolder();
afterAll(() => folder.remove());

const csvText = (rows: typeof AWKWARD) => [...csvChunks(sampleKinds(rows))].join('');

describe('csvChunks', () => {
  it('writes what RFC 4180 says, byte for byte', () => {
    // By hand from RFC 4180, section 2: rules 1 (CRLF), 3 (header), 6 and 7 (quotes).
    expect(csvText(AWKWARD.slice(0, 2))).toBe(
      'name,length_m,place,kept,at\r\n' +
        'Zoë 7 🏓,0.30000000000000004,0,true,2026-01-01T00:00:00.123Z\r\n' +
        '"a ""quoted"", b\nc",0,-2147483648,false,1970-01-01T00:00:00.000Z\r\n',
    );
  });

  it('leaves empty what is not known: null, NaN, infinity, an empty text', () => {
    const lines = csvText(AWKWARD.slice(3)).split('\r\n');
    expect(lines[1]).toBe(',1.7976931348623157e+308,,true,');
    expect(lines[2]).toBe(',,1,true,+275760-09-13T00:00:00.000Z');
    expect(lines[3]).toBe('NULL,,1,true,1970-01-01T00:00:00.001Z');
  });

  it('is read by DuckDB to the last bit', async () => {
    const rows = AWKWARD.slice(0, 3);
    const path = folder.write('awkward.csv', [csvText(rows)]);
    const found = await query(
      `SELECT name, length_m, place FROM read_csv('${path}', types = {'length_m': 'DOUBLE'})`,
    );
    expect(found.map(({ name, length_m, place }) => [name, length_m, Number(place)])).toEqual(
      rows.map(({ text, number, integer }) => [text, number + 0, integer]),
    );
  });
});

describe('text from outside', () => {
  // OWASP, "CSV Injection": what a cell must not begin with, and that separators and quotes count.
  const hostile = [
    '=1+1',
    '+1',
    '-1',
    '@SUM(A1)',
    '\t=1',
    '\r=1',
    '  =1',
    '=HYPERLINK("http://x","y")',
    'a;=1+1',
    'a,=1+1',
    'a\n=1+1',
    '";=1+1',
    '＝1+1',
  ];

  it.each(hostile)(
    '%j begins no formula, whichever separator the spreadsheet splits at',
    (text) => {
      const cell = csvText([{ ...AWKWARD[0]!, text }]).split('at\r\n')[1]!;
      const ours = cell.slice(0, cell.indexOf(',0.30000000000000004'));
      for (const separator of [/,/, /;/, /\t/, /\r|\n/]) {
        for (const part of ours.split(separator)) {
          // what a reader sees of the part: without quotes around it and blanks before it
          expect(part.replace(/^["\s]+/, '')).not.toMatch(/^[=+\-@＝＋－＠]/);
        }
      }
    },
  );

  it('is left alone when it is harmless', () => {
    for (const text of ['Player A', 'x-1', 'a=b', '580 mm + grip', "O'Neill", '3-4'])
      expect(spreadsheetText(text)).toBe(text);
  });

  it('does not touch numbers, negative ones too', () => {
    expect(csvText([{ ...AWKWARD[0]!, text: 'x', number: -1.5, integer: -2 }])).toContain(
      '\r\nx,-1.5,-2,',
    );
  });
});

describe('columnList', () => {
  it('is a table of what the columns of tables mean', () => {
    const text = [...csvChunks(columnList([sampleKinds([])]))].join('');
    expect(text).toContain('table,name,kind,unit,meaning\r\n');
    expect(text).toContain('kinds,length_m,number,m,A number.\r\n');
    expect(text).toContain('kinds,at,time,,A time.\r\n');
  });
});
