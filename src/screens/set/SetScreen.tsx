import { useEffect, useMemo } from 'preact/hooks';
import type { SetDescription } from '../../core/recording/set-description.ts';
import { FunnelChart } from '../chart/FunnelChart.tsx';
import { hashOf } from '../route.ts';
import type { WorkerClient } from '../worker-client.ts';
import { SaveAs } from './SaveAs.tsx';
import { SetWords } from './SetWords.tsx';
import { SwingTable } from './SwingTable.tsx';
import { createSetModel, type OpenedSet, type SetModel } from './set-model.ts';
import './set.css';

interface Props {
  readonly client: WorkerClient;
  readonly setId: string;
}

/** A stored set, to look at and to correct: corrections are added to its file, what was recorded stays. */
export function SetScreen({ client, setId }: Props) {
  const model = useMemo(() => createSetModel(client, setId), [client, setId]);
  useEffect(() => model.dispose, [model]);
  const opened = model.opened.value;
  const trouble = model.trouble.value;
  return (
    <main class="page set">
      <header class="set-head">
        <a class="button" href={hashOf({ screen: 'start' })}>
          Back
        </a>
        <h1>{opened === null ? 'Set' : opened.description.player}</h1>
        <div class="set-actions">
          <a class="button" href={hashOf({ screen: 'replay', setId })}>
            Replay
          </a>
          <button type="button" disabled={opened === null} onClick={model.save}>
            Save file
          </button>
        </div>
      </header>
      {trouble !== null && (
        <p class="notice" role="alert">
          {trouble}
        </p>
      )}
      {opened !== null && <Contents opened={opened} model={model} />}
      {model.lastEdit.value !== null && (
        <div class="set-undo" role="status">
          <span>{model.lastEdit.value}</span>
          <button type="button" disabled={model.isEditing.value} onClick={model.undo}>
            Undo
          </button>
        </div>
      )}
      {opened === null && trouble === null && (
        <p class="soft" role="status">
          Reading the set…
        </p>
      )}
    </main>
  );
}

function Contents({ opened, model }: { readonly opened: OpenedSet; readonly model: SetModel }) {
  const { description, view } = opened;
  return (
    <>
      <dl class="set-facts">
        {factsOf(description).map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <SaveAs isBusy={model.isExporting.value} onSave={model.saveAs} />
      <div class="set-funnel">
        <FunnelChart funnel={view.funnel} />
      </div>
      <SetWords measures={model.measures.value} isComplete={model.isMeasured.value} />
      <SwingTable
        swings={view.swings}
        band={description.sweetSpotBand}
        scoreSteps={description.scoreSteps}
        isEditing={model.isEditing.value}
        onEdit={model.edit}
      />
    </>
  );
}

function factsOf(description: SetDescription): readonly (readonly [string, string])[] {
  const { upperArm, forearm, implement } = description.lengthsM;
  const statureM = description.armEstimatedFromStatureM;
  const cm = (metres: number): string => `${(metres * 100).toFixed(1)} cm`;
  const band = description.sweetSpotBand;
  const started = new Date(description.startedAtMs);
  const sources = {
    simulated: 'simulated player (invented)',
    sensors: 'sensors',
    imported: 'imported file',
  };
  return [
    ['When', started.toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' })],
    ['From', sources[description.source]],
    ['Kit', `${description.implement}, ${description.ball}`],
    ['Striking hand', description.handedness],
    [
      'Upper arm, forearm, wrist to sweet spot',
      `${cm(upperArm)}, ${cm(forearm)}, ${cm(implement)}`,
    ],
    ...(statureM === undefined
      ? []
      : [['Upper arm and forearm', `estimated from a stature of ${cm(statureM)}`] as const]),
    [
      'Sweet-spot band',
      band === null ? 'not known' : `${cm(band.reachM)} ± ${cm(band.halfWidthM)}`,
    ],
    // An opened set is always read in review.
    ['Reaches', 'read with hindsight, millimetres off those shown live'],
  ];
}
