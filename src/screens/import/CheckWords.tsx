import { useEffect, useRef } from 'preact/hooks';
import { SEGMENTS } from '../../core/arm/segments.ts';
import type { TableCheck } from '../../worker/contract.ts';
import { segmentTitle } from './ColumnFields.tsx';

type Sensor = TableCheck['report']['sensors']['upperArm'];

/** What a table would be as a set, in words. */
export function CheckWords({ check }: { readonly check: TableCheck }) {
  const { report, rows, swings, reaches } = check;
  const shown = useRef<HTMLElement>(null);
  // It appears below the buttons, often below the screen.
  useEffect(() => shown.current?.scrollIntoView({ block: 'nearest' }), [check]);
  return (
    <section ref={shown} class="import-check" role="status" aria-label="What was read">
      <p>
        <b>
          {durationWords(report.durationS)}, {rows.toLocaleString()} rows.{' '}
          {swings === 1 ? '1 swing' : `${swings} swings`}, {reaches} with a reach.
        </b>
      </p>
      <ul>
        {SEGMENTS.map((segment) => (
          <li key={segment}>
            {segmentTitle(segment)}: {sensorWords(report.sensors[segment], rows)}
          </li>
        ))}
        <li>{zeroWords(check.zero)}</li>
      </ul>
      {report.doubts.length > 0 && (
        <ul class="notice">
          {report.doubts.map((doubt) => (
            <li key={doubt}>{doubt}</li>
          ))}
        </ul>
      )}
    </section>
  );
}

function sensorWords({ samples, rateHz, gaps, longestGapS }: Sensor, rows: number): string {
  const rate = `${rateHz < 100 ? rateHz.toFixed(1) : Math.round(rateHz)} samples a second`;
  const missing = samples < rows ? `, values in ${samples.toLocaleString()} rows` : '';
  if (gaps === 0) return `${rate}, no gaps${missing}.`;
  const count = gaps === 1 ? '1 gap' : `${gaps.toLocaleString()} gaps`;
  return `${rate}, ${count}, the longest ${longestGapS.toPrecision(2)} s${missing}.`;
}

function zeroWords(zero: TableCheck['zero']): string {
  switch (zero.phase) {
    case 'zeroed':
      return `Both poses found, last held ${durationWords(zero.atTimeUs / 1e6)} after the first row.`;
    case 'plumb':
      return 'The first pose, the arm hanging, was not found after the time given: no swing has a reach.';
    case 'point':
      return `The second pose, pointing, was not found. ${zero.problem ?? ''}`;
    case 'not-started':
      return (
        zero.problem ??
        'No time was given for the poses, so no swing has a reach. Say when they begin.'
      );
  }
}

function durationWords(seconds: number): string {
  if (seconds < 60) return `${seconds.toFixed(1)} s`;
  return `${Math.floor(seconds / 60)} min ${Math.round(seconds % 60)} s`;
}
