import type { ImplementRow } from './implement-entry.ts';
import { withError } from './kit-words.ts';
import { comparedImplements, effortWords, swingEffort } from './swing-effort.ts';

/** Two-sided 95 % of the normal distribution. */
const Z95 = 1.96;
const UNKNOWN = '–';

/** What was measured of the implements side by side; nothing until two were. */
export function ImplementsCompared({ rows }: { readonly rows: readonly ImplementRow[] }) {
  const compared = comparedImplements(rows);
  if (compared.length === 0) return null;
  const most = Math.max(...compared.map((row) => swingEffort(row)?.inertiaKgM2 ?? 0));
  return (
    <section class="kit-part kit-compared">
      <h2>Implements side by side</h2>
      <p>{effortWords(compared)}</p>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling box has to be reachable */}
      <section class="kit-scroll" tabIndex={0} aria-label="Implements side by side, in numbers">
        <table>
          <thead>
            <tr>
              <th scope="col">Implement</th>
              <th scope="col">To get swinging, kg m²</th>
              <th scope="col">Mass, g</th>
              <th scope="col">Balances at, cm</th>
            </tr>
          </thead>
          <tbody>
            {compared.map((row) => (
              <Line key={row.implement} row={row} most={most} />
            ))}
          </tbody>
        </table>
      </section>
      <p class="soft">
        Balance point from the butt end. To get swinging: moment of inertia about an axis 10 cm from
        the butt end, inside the hand, with its 95 % interval.
      </p>
      <p class="kit-caution">
        This is about the implements alone. It says nothing of this player: whether one suits is
        seen in sets, under Side by side.
      </p>
    </section>
  );
}

function Line({ row, most }: { readonly row: ImplementRow; readonly most: number }) {
  const { implement, massKg, balancePointM } = row;
  const effort = swingEffort(row);
  return (
    <tr>
      <th scope="row">{implement}</th>
      <td>
        {effort === null ? (
          'not measured'
        ) : (
          <>
            {withError(effort.inertiaKgM2, Z95 * effort.standardError)}
            <span
              class="kit-effort"
              style={{ width: `${((100 * effort.inertiaKgM2) / most).toFixed(0)}%` }}
            />
          </>
        )}
      </td>
      <td>{massKg === undefined ? UNKNOWN : (1000 * massKg).toFixed(0)}</td>
      <td>{balancePointM === undefined ? UNKNOWN : (100 * balancePointM).toFixed(1)}</td>
    </tr>
  );
}
