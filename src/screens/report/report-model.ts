import { computed, type ReadonlySignal, signal } from '@preact/signals';
import type { ReviewedMeasures } from '../../core/measures/measure-set.ts';
import type { ReportedSet } from '../../reports/reported-set.ts';
import { setText } from '../../reports/set-text.ts';
import type { FromWorker } from '../../worker/contract.ts';
import { saveFile } from '../controls/save-file.ts';
import { choiceWithin } from '../side-by-side/comparable.ts';
import { isSameKit } from '../side-by-side/compared-pair.ts';
import { comparedKits } from '../side-by-side/pair-kits.ts';
import { createSideBySideModel, type SideBySideModel } from '../side-by-side/side-by-side-model.ts';
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

/**
 * Has the worker read a stored set and measure it. Its two kits, where it has two, are held against each other as
 * Side by side does, over all sets of the player that have both: one player gets one answer.
 */
export function createReportModel(client: WorkerClient, setId: string): ReportModel {
  const opened = signal<OpenedSet | null>(null);
  const measures = signal<Partial<ReviewedMeasures>>({});
  const isMeasured = signal(false);
  const sideBySide = signal<SideBySideModel | null>(null);
  const trouble = signal<string | null>(null);
  const reported = computed<ReportedSet | null>(() => {
    const set = opened.value;
    const kits = kitsOf(sideBySide.value);
    if (set === null || !isMeasured.value || kits === undefined) return null;
    if (!isWhole(measures.value)) return null;
    return { ...set, measures: measures.value, kits };
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
      if (message.description.setId !== setId) return;
      opened.value = message;
      sideBySide.value ??= createSideBySideModel(
        client,
        message.description.player,
        (comparable, sets) => choiceWithin(comparable, sets, setId),
      );
    } else if (message.type === 'measures') {
      if (message.setId !== setId) return;
      measures.value = { ...measures.value, ...message.measures };
      isMeasured.value = message.isLast;
    }
  };
  const subscription = client.messages$.subscribe(take);
  read();
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
    dispose: () => {
      subscription.unsubscribe();
      sideBySide.value?.dispose();
    },
  };
}

/** The last family that the worker computes; when one has failed, trouble says so and there is no report. */
function isWhole(measures: Partial<ReviewedMeasures>): measures is ReviewedMeasures {
  return measures.order !== undefined && measures.accuracySplit !== undefined;
}

/** Two kits of different length against each other. @returns undefined until that is known */
function kitsOf(model: SideBySideModel | null): ReportedSet['kits'] | undefined {
  if (model === null || model.comparable.value === null) return undefined;
  const [pair, compared, decision] = [model.pair.value, model.compared.value, model.decision.value];
  if (pair === null || pair.isLengthEqual || isSameKit(pair)) return null;
  if (compared === null || decision === null) return undefined;
  return comparedKits(pair, compared.comparison, decision);
}
