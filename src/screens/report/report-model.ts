import { computed, type ReadonlySignal, signal } from '@preact/signals';
import type { ReviewedMeasures } from '../../core/measures/measure-set.ts';
import type { ReportedSet } from '../../reports/reported-set.ts';
import { setText } from '../../reports/set-text.ts';
import type { FromWorker, SetDecision } from '../../worker/contract.ts';
import { saveFile } from '../controls/save-file.ts';
import type { WorkerClient } from '../worker-client.ts';

type OpenedSet = Omit<Extract<FromWorker, { type: 'opened-set' }>, 'type'>;

/** The report of one stored set as its screen sees it. */
export interface ReportModel {
  /** null until the set has been read. */
  readonly opened: ReadonlySignal<OpenedSet | null>;
  /** null until everything has been computed. */
  readonly reported: ReadonlySignal<ReportedSet | null>;
  readonly trouble: ReadonlySignal<string | null>;
  /** Reports the blocks under the condition of this one, from 0. */
  readCondition(block: number): void;
  saveText(): void;
  dispose(): void;
}

/** Has the worker read a stored set, measure it, and hold its two kits against each other where it has two. */
export function createReportModel(client: WorkerClient, setId: string): ReportModel {
  const opened = signal<OpenedSet | null>(null);
  const measures = signal<Partial<ReviewedMeasures>>({});
  const isMeasured = signal(false);
  /** undefined until the worker has answered. */
  const kits = signal<SetDecision | null | undefined>(undefined);
  const trouble = signal<string | null>(null);
  const reported = computed<ReportedSet | null>(() => {
    const set = opened.value;
    if (set === null || !isMeasured.value || kits.value === undefined) return null;
    if (!isWhole(measures.value)) return null;
    return { ...set, measures: measures.value, kits: kits.value };
  });
  const read = (block?: number): void => {
    opened.value = null;
    measures.value = {};
    isMeasured.value = false;
    client.post({ type: 'open-set', setId, ...(block === undefined ? {} : { block }) });
  };
  const take = (message: FromWorker): void => {
    if (message.type === 'trouble') trouble.value = message.trouble.message;
    else if (message.type === 'opened-set') {
      if (message.description.setId === setId) opened.value = message;
    } else if (message.type === 'measures') {
      if (message.setId !== setId) return;
      measures.value = { ...measures.value, ...message.measures };
      isMeasured.value = message.isLast;
    } else if (message.type === 'set-decision' && message.setId === setId) {
      kits.value = message.found;
    }
  };
  const subscription = client.messages$.subscribe(take);
  read();
  client.post({ type: 'decide-set', setId });
  return {
    opened,
    reported,
    trouble,
    readCondition: read,
    saveText: () => {
      if (opened.value === null) return;
      const text = setText(opened.value.view, opened.value.description);
      saveFile(`${setId}.txt`, [new TextEncoder().encode(text)]);
    },
    dispose: () => subscription.unsubscribe(),
  };
}

/** The last family that the worker computes; when one has failed, trouble says so and there is no report. */
function isWhole(measures: Partial<ReviewedMeasures>): measures is ReviewedMeasures {
  return measures.order !== undefined && measures.accuracySplit !== undefined;
}
