import { type ReadonlySignal, signal } from '@preact/signals';
import type { SetExport } from '../../core/exports/set-export.ts';
import type { SetMeasures } from '../../core/measures/measure-set.ts';
import type { LiveView } from '../../core/pipeline/outputs.ts';
import type { SetDescription } from '../../core/recording/set-description.ts';
import type { SetEvent } from '../../core/recording/set-record.ts';
import { createFileGatherer } from '../controls/gather-file.ts';
import { saveFile } from '../controls/save-file.ts';
import type { WorkerClient } from '../worker-client.ts';
import type { SetEdit } from './set-edits.ts';

/** A stored set once it has been read again. */
export interface OpenedSet {
  readonly description: SetDescription;
  readonly view: LiveView;
}

/** One stored set as its screen sees it. */
export interface SetModel {
  /** null until it has been read. */
  readonly opened: ReadonlySignal<OpenedSet | null>;
  /** Those computed so far. */
  readonly measures: ReadonlySignal<Partial<SetMeasures>>;
  readonly isMeasured: ReadonlySignal<boolean>;
  readonly trouble: ReadonlySignal<string | null>;
  /** What the last edit did, while it can be taken back; null: nothing to undo. */
  readonly lastEdit: ReadonlySignal<string | null>;
  /** The file is being written and read again. */
  readonly isEditing: ReadonlySignal<boolean>;
  edit(edit: SetEdit): void;
  undo(): void;
  save(): void;
  /** A table of the set is being made. */
  readonly isExporting: ReadonlySignal<boolean>;
  saveAs(kind: SetExport): void;
  dispose(): void;
}

/** Asks the worker to read a stored set through the same pipeline that ran live. */
export function createSetModel(client: WorkerClient, setId: string): SetModel {
  const opened = signal<OpenedSet | null>(null);
  const measures = signal<Partial<SetMeasures>>({});
  const isMeasured = signal(false);
  const trouble = signal<string | null>(null);
  const lastEdit = signal<string | null>(null);
  const isEditing = signal(false);
  const isExporting = signal(false);
  const gather = createFileGatherer(() => {
    isExporting.value = false;
  });
  let done: readonly SetEdit[] = [];
  /** What had been done before the edit that is under way. */
  let doneBefore: readonly SetEdit[] = [];
  const send = (events: readonly SetEvent[], doneThen: readonly SetEdit[]): void => {
    doneBefore = done;
    done = doneThen;
    trouble.value = null;
    isEditing.value = true;
    measures.value = {};
    isMeasured.value = false;
    client.post({ type: 'edit-set', setId, events });
    lastEdit.value = done.at(-1)?.words ?? null;
  };
  const subscription = client.messages$.subscribe((message) => {
    if (message.type === 'opened-set' && message.description.setId === setId) {
      opened.value = { description: message.description, view: message.view };
      isEditing.value = false;
    } else if (message.type === 'measures' && message.setId === setId) {
      measures.value = { ...measures.value, ...message.measures };
      isMeasured.value = message.isLast;
    } else if (message.type === 'set-file' && message.setId === setId) {
      saveFile(message.fileName, [message.bytes]);
    } else if (message.type === 'file-part') {
      gather(message);
    } else if (message.type === 'trouble') {
      isExporting.value = false;
      trouble.value = message.trouble.message;
      // an unreadable rest of the file does not stop an edit, anything else has
      if (isEditing.value && message.trouble.code !== 'set-unreadable') {
        done = doneBefore;
        lastEdit.value = done.at(-1)?.words ?? null;
      }
      isEditing.value = false;
    }
  });
  client.post({ type: 'open-set', setId });
  return {
    opened,
    measures,
    isMeasured,
    trouble,
    lastEdit,
    isEditing,
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
