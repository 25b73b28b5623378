import type { Cell, PictureColumn, PictureTable } from './picture-spec.ts';

/** More rows than this are in the saved table only. */
const MOST_ROWS = 120;

interface Props {
  readonly table: PictureTable;
  readonly name: string;
}

/** The numbers of a picture, in a box that scrolls by keyboard too. */
export function NumbersTable({ table: { columns, rows }, name }: Props) {
  const shown = rows.slice(0, MOST_ROWS);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling box has to be reachable
    <section class="picture-table" tabIndex={0} aria-label={`Numbers: ${name}`}>
      <table>
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column.name} scope="col">
                {column.name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {shown.map((row, i) => (
            <tr key={i}>
              {row.map((cell, column) => (
                <td key={columns[column]!.name}>{cellWords(cell, columns[column]!)}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      {rows.length > shown.length && (
        <p class="soft">
          The first {shown.length} of {rows.length} rows; all are in the CSV file.
        </p>
      )}
    </section>
  );
}

/** A cell as the screen shows it: a dash where nothing is known. */
export function cellWords(cell: Cell, { digits }: PictureColumn): string {
  if (typeof cell === 'string') return cell;
  if (cell === null || !Number.isFinite(cell)) return '–';
  // No minus before a nothing.
  const text = cell.toFixed(digits);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}
