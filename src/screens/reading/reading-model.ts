import { type ReadonlySignal, signal } from '@preact/signals';
import type { SetExport } from '../../core/exports/set-export.ts';
import type { ReviewedMeasures } from '../../core/measures/measure-set.ts';
import type { SwingTrace } from '../../core/pipeline/swing-trace.ts';
import type { SetEvent } from '../../core/recording/set-record.ts';
import type { FromWorker } from '../../worker/contract.ts';
import { createFileGatherer } from '../controls/gather-file.ts';
import { saveFile } from '../controls/save-file.ts';
import type { WorkerClient } from '../worker-client.ts';
import type { SetEdit } from './set-edits.ts';

/** A stored set once it has been read again. */
export type OpenedSet = Omit<Extract<FromWorker, { type: 'opened-set' }>, 'type'>;

/** The swing looked at: its place in the set, and its traces. */
export interface OpenSwing {
  readonly index: number;
  /** undefined until they have come; null when there is nothing to draw. */
  readonly trace: SwingTrace | null | undefined;
}

/** One stored set as its screen sees it. */
export interface ReadingModel {
  /** null until it has been read. */
  readonly opened: ReadonlySignal<OpenedSet | null>;
  /** Those computed so far; after an edit each stays until it has been computed anew. */
  readonly measures: ReadonlySignal<Partial<ReviewedMeasures>>;
  readonly isMeasured: ReadonlySignal<boolean>;
  readonly openSwing: ReadonlySignal<OpenSwing | null>;
  readonly trouble: ReadonlySignal<string | null>;
  /** What the last edit did, while it can be taken back; null: nothing to undo. */
  readonly lastEdit: ReadonlySignal<string | null>;
  /** The file is being written and read again. */
  readonly isEditing: ReadonlySignal<boolean>;
  /** Reads the blocks under the condition of this one, from 0. */
  readCondition(block: number): void;
  /** Looks at a swing by its place in the set; null: at none. */
  lookAt(index: number | null): void;
  edit(edit: SetEdit): void;
  undo(): void;
  save(): void;
  /** A table of the set is being made. */
  readonly isExporting: ReadonlySignal<boolean>;
  saveAs(kind: SetExport): void;
  dispose(): void;
}

/** Asks the worker to read a stored set through the same pipeline that ran live. */
export function createReadingModel(client: WorkerClient, setId: string): ReadingModel {
  const opened = signal<OpenedSet | null>(null);
  const measures = signal<Partial<ReviewedMeasures>>({});
  const isMeasured = signal(false);
  const openSwing = signal<OpenSwing | null>(null);
  const trouble = signal<string | null>(null);
  const lastEdit = signal<string | null>(null);
  const isEditing = signal(false);
  const isExporting = signal(false);
  const gather = createFileGatherer(() => {
    isExporting.value = false;
  });
  let block: number | undefined;
  let done: readonly SetEdit[] = [];
  /** What had been done before the edit that is under way. */
  let doneBefore: readonly SetEdit[] = [];
  const where = () => ({ setId, ...(block === undefined ? {} : { block }) });
  const send = (events: readonly SetEvent[], doneThen: readonly SetEdit[]): void => {
    doneBefore = done;
    done = doneThen;
    trouble.value = null;
    isEditing.value = true;
    isMeasured.value = false;
    client.post({ type: 'edit-set', events, ...where() });
    lastEdit.value = done.at(-1)?.words ?? null;
  };
  const askForTrace = (): void => {
    const index = openSwing.value?.index;
    if (index !== undefined) client.post({ type: 'trace-swing', setId, index });
  };
  const take = (message: FromWorker): void => {
    switch (message.type) {
      case 'opened-set':
        if (message.description.setId !== setId) return;
        opened.value = message;
        isEditing.value = false;
        askForTrace();
        return;
      case 'measures':
        if (message.setId !== setId) return;
        measures.value = { ...measures.value, ...message.measures };
        isMeasured.value = message.isLast;
        return;
      case 'swing-trace':
        if (message.setId !== setId || message.index !== openSwing.value?.index) return;
        openSwing.value = { index: message.index, trace: message.trace };
        return;
      case 'set-file':
        if (message.setId === setId) saveFile(message.fileName, [message.bytes]);
        return;
      case 'file-part':
        gather(message);
        return;
      case 'trouble':
        isExporting.value = false;
        trouble.value = message.trouble.message;
        // an unreadable rest of the file does not stop an edit, anything else has
        if (isEditing.value && message.trouble.code !== 'set-unreadable') {
          done = doneBefore;
          lastEdit.value = done.at(-1)?.words ?? null;
          isMeasured.value = true;
        }
        isEditing.value = false;
    }
  };
  const subscription = client.messages$.subscribe(take);
  client.post({ type: 'open-set', setId });
  return {
    opened,
    measures,
    isMeasured,
    openSwing,
    trouble,
    lastEdit,
    isEditing,
    readCondition: (wanted) => {
      block = wanted;
      measures.value = {};
      isMeasured.value = false;
      openSwing.value = null;
      client.post({ type: 'open-set', ...where() });
    },
    lookAt: (index) => {
      openSwing.value = index === null ? null : { index, trace: undefined };
      askForTrace();
    },
    edit: (edit) => {
      send(edit.events, [...done, edit]);
    },
    undo: () => {
      const last = done.at(-1);
      if (last !== undefined) send(last.inverse, done.slice(0, -1));
    },
    isExporting,
    saveAs: (kind) => {
      isExporting.value = true;
      const programVersion = __PROGRAM_VERSION__;
      client.post({ type: 'export-as', setId, kind, programVersion });
    },
    save: () => client.post({ type: 'export-set', setId }),
    dispose: () => subscription.unsubscribe(),
  };
}
