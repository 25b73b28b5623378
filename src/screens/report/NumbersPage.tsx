import type { NumbersReport } from '../../reports/numbers-report.ts';
import {
  conditionOf,
  conditionWords,
  dayWords,
  type ReportedSet,
} from '../../reports/reported-set.ts';

interface Props {
  readonly report: NumbersReport;
  readonly set: ReportedSet;
}

/** The second page: every number with its interval, n, unit and method. */
export function NumbersPage({ report, set }: Props) {
  const { description } = set;
  return (
    <article class="sheet sheet-numbers" aria-labelledby="report-numbers-title">
      <h2 id="report-numbers-title">{description.player}: the numbers</h2>
      <p>
        {dayWords(description)}; {conditionWords(conditionOf(set))}
      </p>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling box has to be reachable */}
      <section class="sheet-scroll" tabIndex={0} aria-label="Measures">
        <Measures report={report} />
      </section>
      <h3>Data quality</h3>
      <dl class="sheet-quality">
        {report.quality.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: as above */}
      <section class="sheet-scroll" tabIndex={0} aria-label="Sensors">
        <Sensors report={report} />
      </section>
      <h3>Limits</h3>
      <ul class="sheet-limits">
        {report.limits.map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
      <p class="sheet-sources">Sources: {report.sources.join('; ')}.</p>
    </article>
  );
}

function Measures({ report }: Pick<Props, 'report'>) {
  return (
    <table>
      <thead>
        <tr>
          {['Measure', 'Value', '95 % interval', 'n', 'Unit', 'Method'].map((name) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {report.measures.map(({ meaning, value, interval, n, unit, method }) => (
          <tr key={meaning}>
            <th scope="row">{meaning}</th>
            <td data-name="Value">
              {value}
              <span class="sheet-unit"> {unit === '1' ? '' : unit}</span>
            </td>
            <td data-name="95 % interval">{interval}</td>
            <td data-name="n">{n}</td>
            <td class="sheet-unit-cell">{unit}</td>
            <td data-name="Method">{method}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const SENSOR_COLUMNS = [
  'Sensor',
  'Rate, Hz',
  'Packets lost',
  'Clipped samples',
  'Clock known to ±, ms',
  'Radio delay spread, ms',
] as const;

function Sensors({ report }: Pick<Props, 'report'>) {
  return (
    <table>
      <thead>
        <tr>
          {SENSOR_COLUMNS.map((name) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {report.sensors.map((sensor) => (
          <tr key={sensor.name}>
            <th scope="row">{sensor.name}</th>
            <td data-name="Rate, Hz">{sensor.rateHz}</td>
            <td data-name="Packets lost">{sensor.lostPackets}</td>
            <td data-name="Clipped samples">{sensor.clippedSamples}</td>
            <td data-name="Clock known to ±, ms">{sensor.clockMs}</td>
            <td data-name="Radio delay spread, ms">{sensor.delaySpreadMs}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
