import { useEffect, useMemo, useRef } from 'preact/hooks';
import { hashOf } from '../route.ts';
import { runningSet } from '../running-set.ts';
import type { WorkerClient } from '../worker-client.ts';
import { CheckWords } from './CheckWords.tsx';
import { ColumnFields } from './ColumnFields.tsx';
import { FileButton } from './FileButton.tsx';
import { FirstRows } from './FirstRows.tsx';
import { createImportModel, type ImportModel } from './import-model.ts';
import { PlayFields } from './PlayFields.tsx';
import '../start/start.css';
import '../storage/storage.css';
import './import.css';

/** Brings in a table that other sensors recorded: which columns, whose arm, a check, then a set like any other. */
export function ImportScreen({ client }: { readonly client: WorkerClient }) {
  const model = useMemo(() => createImportModel(client), [client]);
  useEffect(() => model.dispose, [model]);
  const isRunning = runningSet.value !== null;
  const isStill = !model.isBusy.value && !isRunning;
  const fileName = model.fileName.value;
  const preview = model.preview.value;
  return (
    <main class="page import">
      <header class="storage-head">
        <a class="button" href={hashOf({ screen: 'storage' })}>
          Back
        </a>
        <h1>Table from other sensors</h1>
      </header>
      {isRunning && (
        <p class="notice" role="alert">
          A set is running. End it before a table is read.
        </p>
      )}
      <section class="import-part">
        <p>
          One table, first line names, a row for each instant: time, and gyroscope and accelerometer
          x y z of upper arm, forearm and implement. It stays on this device.
        </p>
        <div class="import-files">
          <FileButton
            label={fileName === null ? 'Choose table' : 'Choose another table'}
            accept=".csv,.tsv,.txt,.gz"
            isStill={isStill}
            onFile={model.choose}
          />
          <FileButton
            label="Load mapping"
            accept=".json"
            isStill={isStill}
            onFile={model.loadMapping}
          />
        </div>
        {fileName !== null && <p class="import-name">{fileName}</p>}
      </section>
      {preview === null && <Messages model={model} />}
      {preview !== null && (
        <>
          <FirstRows preview={preview} columns={model.form.value.columns} />
          <TableForm model={model} isStill={isStill} />
        </>
      )}
    </main>
  );
}

function Messages({ model }: { readonly model: ImportModel }) {
  const trouble = model.trouble.value;
  const shown = useRef<HTMLParagraphElement>(null);
  // The button that was pressed may be far above.
  useEffect(() => shown.current?.scrollIntoView({ block: 'nearest' }), [trouble]);
  return (
    <>
      {trouble !== null && (
        <p ref={shown} class="notice import-trouble" role="alert">
          {trouble}
        </p>
      )}
      <p class="soft" role="status">
        {model.isBusy.value && 'Reading the table…'}
      </p>
    </>
  );
}

function TableForm({ model, isStill }: { readonly model: ImportModel; readonly isStill: boolean }) {
  const preview = model.preview.value!;
  const { columns, entry, posesAt, recordedAt } = model.form.value;
  const doubts = model.doubts.value;
  const check = model.check.value;
  return (
    <form
      class="set-form import-form"
      onSubmit={(event) => {
        event.preventDefault();
        model.checkTable();
      }}
    >
      {doubts.length > 0 && (
        <div class="import-doubts" role="status">
          <b>Not sure</b>
          <ul>
            {doubts.map((doubt) => (
              <li key={doubt}>{doubt}</li>
            ))}
          </ul>
        </div>
      )}
      <ColumnFields
        preview={preview}
        columns={columns}
        onDelimiter={model.setDelimiter}
        onChange={(changed) => model.change({ columns: changed })}
      />
      <PlayFields
        library={model.library.value}
        entry={entry}
        onChange={(part) => model.change({ entry: { ...entry, ...part } })}
      />
      <label class="field">
        <span>Two poses begin at, as in the time column</span>
        <input
          inputMode="text"
          pattern="-?\d+(\.\d+)?( +-?\d+(\.\d+)?)*"
          title="A number; several with spaces between"
          value={posesAt}
          onInput={(event) => model.change({ posesAt: event.currentTarget.value })}
        />
        <span class="soft">
          They are looked for from there on. Without poses no swing has a reach.
        </span>
      </label>
      <label class="field">
        <span>Recorded on, if not on the file's date</span>
        <input
          type="datetime-local"
          value={recordedAt}
          onInput={(event) => model.change({ recordedAt: event.currentTarget.value })}
        />
      </label>
      <div class="import-files">
        <button type="submit" class={check === null ? 'primary' : ''} disabled={!isStill}>
          Check
        </button>
        <button
          type="button"
          disabled={!isStill}
          onClick={(event) => {
            if (event.currentTarget.form!.reportValidity()) model.saveMapping();
          }}
        >
          Save mapping
        </button>
      </div>
      <Messages model={model} />
      {check !== null && (
        <>
          <CheckWords check={check} />
          <button type="button" class="primary" disabled={!isStill} onClick={model.bringIn}>
            Bring in
          </button>
        </>
      )}
    </form>
  );
}
