import { SEGMENT_WORDS, SEGMENTS } from '../../core/arm/segments.ts';
import type { ColumnChoice } from '../../core/recording/table-guess.ts';
import type { TablePreview } from '../../core/recording/table-preview.ts';

interface Props {
  readonly preview: TablePreview;
  readonly columns: ColumnChoice;
}

/** More are not drawn: nobody looks through them, and a page must stay quick. */
const MOST_SHOWN = 150;

/** The first rows as they stand in the table, with what each column is taken for. */
export function FirstRows({ preview: { header, rows }, columns }: Props) {
  const roles = rolesOf(columns);
  const shown = header.slice(0, MOST_SHOWN);
  return (
    <section class="import-part">
      <h2>First rows</h2>
      {/* It scrolls sideways in itself, also by the keyboard. */}
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling box must be reachable by keyboard (WCAG 2.1.1) */}
      <section class="import-rows" tabIndex={0} aria-label="First rows of the table, scrolls">
        <table>
          <thead>
            <tr>
              {shown.map((name, place) => (
                <th key={place} scope="col" class={roles.has(name) ? 'import-used' : ''}>
                  {name}
                  <small>{roles.get(name) ?? 'not used'}</small>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((cells, row) => (
              <tr key={row}>
                {shown.map((_, place) => (
                  <td key={place}>{cells[place] ?? ''}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      {header.length > MOST_SHOWN && (
        <p class="soft">{header.length - MOST_SHOWN} more columns are not shown.</p>
      )}
    </section>
  );
}

/** What the chosen columns are, in words, by name. */
function rolesOf(columns: ColumnChoice): ReadonlyMap<string, string> {
  const roles = new Map<string, string>();
  if (columns.time !== null) roles.set(columns.time, 'time');
  for (const segment of SEGMENTS) {
    for (const kind of ['gyro', 'accel'] as const) {
      columns.sensors[segment][kind]?.forEach((name, axis) => {
        roles.set(name, `${SEGMENT_WORDS[segment]} ${kind} ${'xyz'.charAt(axis)}`);
      });
    }
  }
  return roles;
}
