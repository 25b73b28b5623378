import { useEffect, useMemo } from 'preact/hooks';
import { numbersReport } from '../../reports/numbers-report.ts';
import { plainReport } from '../../reports/plain-report.ts';
import { ConditionChoice } from '../reading/ConditionChoice.tsx';
import { hashOf } from '../route.ts';
import type { WorkerClient } from '../worker-client.ts';
import { NumbersPage } from './NumbersPage.tsx';
import { PlainPage } from './PlainPage.tsx';
import { createReportModel } from './report-model.ts';
import './report.css';

interface Props {
  readonly client: WorkerClient;
  readonly setId: string;
}

/** A stored set as two pages to print: one in plain words, one with the numbers. */
export function ReportScreen({ client, setId }: Props) {
  const model = useMemo(() => createReportModel(client, setId), [client, setId]);
  useEffect(() => model.dispose, [model]);
  const opened = model.opened.value;
  const set = model.reported.value;
  const trouble = model.trouble.value;
  return (
    <main class="page report">
      <div class="report-tools">
        <header class="report-head">
          <a class="button" href={hashOf({ screen: 'set', setId })}>
            Back
          </a>
          <h1>Report</h1>
          <button
            type="button"
            class="primary"
            disabled={set === null}
            onClick={() => window.print()}
          >
            Print
          </button>
          <button type="button" disabled={opened === null} onClick={model.saveText}>
            Save as text
          </button>
        </header>
        {opened !== null && <ConditionChoice opened={opened} onChoose={model.readCondition} />}
        <p class="soft">
          Two pages for A4 or US Letter. The print window can also save them as PDF.
        </p>
      </div>
      {trouble !== null && (
        <p class="notice" role="alert">
          {trouble}
        </p>
      )}
      {set === null && trouble === null && (
        <p class="soft" role="status">
          Reading and measuring the set…
        </p>
      )}
      {set !== null && (
        <>
          <PlainPage report={plainReport(set)} set={set} />
          <NumbersPage report={numbersReport(set)} set={set} />
        </>
      )}
    </main>
  );
}
