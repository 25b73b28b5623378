import type { Comparison } from '../../core/measures/comparison.ts';
import type { ComparedPair } from './compared-pair.ts';
import { numbersRows } from './numbers-table.ts';

interface Props {
  readonly comparison: Comparison;
  readonly pair: ComparedPair;
}

/** A line for each measure; on a narrow screen a block, since a table that wide would break its numbers. */
export function AllNumbers({ comparison, pair }: Props) {
  const rows = numbersRows(comparison, pair);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling box has to be reachable
    <section class="all-numbers" tabIndex={0} aria-label="Numbers: all measures">
      <table>
        <thead>
          <tr>
            {['Measure', ...rows[0]!.cells.map(([column]) => column)].map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ label, cells }) => (
            <tr key={label}>
              <th scope="row">{label}</th>
              {cells.map(([column, value]) => (
                <td key={column} data-name={column}>
                  {value}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
