import { dsvFormat } from 'd3-dsv';
import { CsvError } from './csv-error.ts';
import { nearestNames } from './nearest-names.ts';

/**
 * Single columns of a table as numbers, whatever they mean.
 * @param text the whole table with one header line @param names wanted columns
 * @returns one column per name, shape (rows); NaN where a cell is no number
 * @throws CsvError when a column is missing
 */
export function readNumberColumns(
  text: string,
  delimiter: string,
  names: readonly string[],
): Float64Array[] {
  const [header, ...rows] = dsvFormat(delimiter).parseRows(text);
  return names.map((name) => {
    const place = header?.indexOf(name) ?? -1;
    if (place < 0) {
      const nearest = nearestNames(name, header ?? [], 3).join(', ');
      throw new CsvError(
        'missing-column',
        `The table has no column '${name}'. Nearest: ${nearest}. Correct the name.`,
      );
    }
    return Float64Array.from(rows, (cells) => Number.parseFloat(cells[place] ?? ''));
  });
}
