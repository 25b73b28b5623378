import { expect, it } from 'vitest';
import { readNumberColumns } from '../../src/core/recording/csv-numbers.ts';

const TABLE = 'time;gyr_x;note\n0;1.5;a\n0.01;-2e-3;\n0.02;;b\n';

it('readNumberColumns gives the columns asked for, NaN where a cell is no number', () => {
  const [note, rate, time] = readNumberColumns(TABLE, ';', ['note', 'gyr_x', 'time']);
  expect([...time!]).toEqual([0, 0.01, 0.02]);
  expect([...rate!]).toEqual([1.5, -0.002, Number.NaN]);
  expect([...note!]).toEqual([Number.NaN, Number.NaN, Number.NaN]);
});

it('readNumberColumns names a column that is missing and the nearest there are', () => {
  expect(() => readNumberColumns(TABLE, ';', ['time', 'gyrx'])).toThrow(
    /no column 'gyrx'\. Nearest: gyr_x/,
  );
  expect(() => readNumberColumns('', ';', ['time'])).toThrow(/no column 'time'/);
});
