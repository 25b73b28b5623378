import { computed, type ReadonlySignal, signal } from '@preact/signals';
import type { TableMapping } from '../../core/recording/table-mapping.ts';
import type { TablePreview } from '../../core/recording/table-preview.ts';
import type { FromWorker, TableCheck } from '../../worker/contract.ts';
import { saveFile } from '../controls/save-file.ts';
import { type Library, watchLibrary } from '../library-model.ts';
import { goTo } from '../route.ts';
import type { WorkerClient } from '../worker-client.ts';
import { EMPTY_FORM, mappingOf, type TableForm, withMapping, withProposal } from './table-form.ts';

type Delimiter = TableMapping['delimiter'];

/** A table of other sensors on its way in: chosen, its columns told, checked, brought in. */
export interface ImportModel {
  readonly fileName: ReadonlySignal<string | null>;
  /** null until a table has been chosen and looked at. */
  readonly preview: ReadonlySignal<TablePreview | null>;
  readonly form: ReadonlySignal<TableForm>;
  /** What is not sure about the proposed columns; of a loaded mapping nothing. */
  readonly doubts: ReadonlySignal<readonly string[]>;
  /** Of the form as it is; null once anything in it has changed. */
  readonly check: ReadonlySignal<TableCheck | null>;
  /** Players and kit of earlier sets; null until the worker has answered. */
  readonly library: ReadonlySignal<Library | null>;
  readonly trouble: ReadonlySignal<string | null>;
  readonly isBusy: ReadonlySignal<boolean>;
  choose(file: File): void;
  setDelimiter(delimiter: Delimiter): void;
  change(part: Partial<TableForm>): void;
  loadMapping(file: File): void;
  saveMapping(): void;
  checkTable(): void;
  bringIn(): void;
  dispose(): void;
}

/** Talks to the worker; a set that was brought in is opened. */
export function createImportModel(client: WorkerClient): ImportModel {
  const state = {
    file: signal<File | null>(null),
    fileName: signal<string | null>(null),
    preview: signal<TablePreview | null>(null),
    form: signal(EMPTY_FORM),
    check: signal<TableCheck | null>(null),
    trouble: signal<string | null>(null),
    isBusy: signal(false),
    /** What was loaded keeps its columns, whatever table is chosen. */
    loaded: signal<TableMapping | null>(null),
  };
  const { file, preview, form, check, trouble, isBusy, loaded } = state;
  const ask = (message: Parameters<WorkerClient['post']>[0]): void => {
    trouble.value = null;
    check.value = null;
    isBusy.value = true;
    client.post(message);
  };
  const look = (chosen: File, delimiter: Delimiter | null): void =>
    ask({ type: 'preview-table', file: chosen, delimiter });
  const read = (isCheck: boolean): void => {
    const mapping = mappingNow();
    if (file.value === null || mapping === null) return;
    const { recordedAt } = form.value;
    const startedAt = recordedAt === '' ? {} : { startedAt: new Date(recordedAt).toISOString() };
    ask({
      type: 'import-table',
      file: file.value,
      mapping: { ...mapping, ...startedAt },
      isCheck,
      programVersion: __PROGRAM_VERSION__,
    });
  };
  const mappingNow = (): TableMapping | null =>
    preview.value === null ? null : mappingOf(form.value, preview.value.delimiter);

  const subscription = client.messages$.subscribe((message) => take(message));
  const take = (message: FromWorker): void => {
    switch (message.type) {
      case 'table-preview':
        preview.value = message.preview;
        if (loaded.value === null) form.value = withProposal(form.value, message.preview);
        break;
      case 'table-mapping':
        loaded.value = message.mapping;
        form.value = withMapping(form.value, message.mapping);
        if (file.value !== null) {
          look(file.value, message.mapping.delimiter);
          return;
        }
        break;
      case 'table-checked':
        check.value = message.check;
        break;
      case 'table-imported':
        goTo({ screen: 'set', setId: message.setId });
        break;
      case 'table-refused':
        trouble.value = message.reason;
        break;
      case 'trouble':
        trouble.value = message.trouble.message;
        break;
      default:
        return;
    }
    isBusy.value = false;
  };
  const doubts = computed(() =>
    preview.value === null || loaded.value !== null
      ? []
      : preview.value.proposals[form.value.entry.handedness].doubts,
  );
  const { library, dispose } = watchLibrary(client);
  return {
    ...state,
    library,
    doubts,
    choose: (chosen) => {
      file.value = chosen;
      state.fileName.value = chosen.name;
      preview.value = null;
      look(chosen, loaded.value?.delimiter ?? null);
    },
    setDelimiter: (delimiter) => {
      if (file.value !== null) look(file.value, delimiter);
    },
    change: (part) => {
      check.value = null;
      form.value = handChanged(form.value, { ...form.value, ...part }, preview.value);
    },
    loadMapping: (saved) => ask({ type: 'read-mapping', file: saved }),
    saveMapping: () => {
      const mapping = mappingNow();
      if (mapping === null) return;
      const text = `${JSON.stringify(mapping, null, 2)}\n`;
      saveFile('mapping.json', [new TextEncoder().encode(text)]);
    },
    checkTable: () => read(true),
    bringIn: () => read(false),
    dispose: () => {
      subscription.unsubscribe();
      dispose();
    },
  };
}

/** Another hand takes the columns proposed for it, unless something else was chosen. */
function handChanged(before: TableForm, after: TableForm, preview: TablePreview | null): TableForm {
  if (preview === null || before.entry.handedness === after.entry.handedness) return after;
  const { proposals } = preview;
  const isAsProposed = before.columns === proposals[before.entry.handedness].choice;
  return isAsProposed ? { ...after, columns: proposals[after.entry.handedness].choice } : after;
}
