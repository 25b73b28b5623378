import type { SetExport } from '../../core/exports/set-export.ts';

interface Props {
  /** A file is being made. */
  readonly isBusy: boolean;
  readonly onSave: (kind: SetExport) => void;
}

const EXPORTS: readonly { readonly kind: SetExport; readonly label: string }[] = [
  { kind: 'swings-csv', label: 'Swings, a row each (CSV)' },
  { kind: 'measures-csv', label: 'Measures of the set (CSV)' },
  { kind: 'time-series-csv', label: 'Time series at 200 Hz (CSV)' },
  { kind: 'swings-parquet', label: 'Swings (Parquet)' },
  { kind: 'time-series-parquet', label: 'Time series (Parquet)' },
  { kind: 'motion-bids', label: 'Motion-BIDS data set (ZIP)' },
];

/** The set as tables and data sets that other programs read. */
export function SaveAs({ isBusy, onSave }: Props) {
  return (
    <details class="set-exports">
      <summary class="button">Save as a table</summary>
      <ul>
        {EXPORTS.map(({ kind, label }) => (
          <li key={kind}>
            <button type="button" disabled={isBusy} onClick={() => onSave(kind)}>
              {label}
            </button>
          </li>
        ))}
      </ul>
      {isBusy && (
        <p class="soft" role="status">
          Making the file…
        </p>
      )}
    </details>
  );
}
