import { useEffect, useMemo } from 'preact/hooks';
import type { SetDescription } from '../../core/recording/set-description.ts';
import type { Condition } from '../../core/recording/set-record.ts';
import { picturesOf } from '../pictures/pictures-of.ts';
import { conditionOf, swingsOf } from '../pictures/read-set.ts';
import { hashOf } from '../route.ts';
import type { WorkerClient } from '../worker-client.ts';
import { ConditionChoice } from './ConditionChoice.tsx';
import { InShort } from './InShort.tsx';
import { createReadingModel, type OpenedSet, type ReadingModel } from './reading-model.ts';
import { SaveAs } from './SaveAs.tsx';
import { SetPictures } from './SetPictures.tsx';
import { SetWords } from './SetWords.tsx';
import { SwingTable } from './SwingTable.tsx';
import './reading.css';

interface Props {
  readonly client: WorkerClient;
  readonly setId: string;
}

/** A stored set, to look at and to correct: corrections are added to its file, what was recorded stays. */
export function ReadingScreen({ client, setId }: Props) {
  const model = useMemo(() => createReadingModel(client, setId), [client, setId]);
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
          <a class="button" href={hashOf({ screen: 'report', setId })}>
            Report
          </a>
          {opened !== null && (
            <>
              <a
                class="button"
                href={hashOf({ screen: 'side-by-side', player: opened.description.player })}
              >
                Side by side
              </a>
              <a
                class="button"
                href={hashOf({ screen: 'progress', player: opened.description.player })}
              >
                Progress
              </a>
            </>
          )}
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

function Contents({ opened, model }: { readonly opened: OpenedSet; readonly model: ReadingModel }) {
  const { description } = opened;
  const condition = conditionOf(opened);
  const measures = model.measures.value;
  const isComplete = model.isMeasured.value;
  const made = picturesOf({ ...opened, measures });
  return (
    <>
      <ConditionChoice opened={opened} onChoose={model.readCondition} />
      <InShort pictures={made.pictures} isStale={!isComplete && made.waiting === 0} />
      <details class="set-about">
        <summary>{summaryOf(description, condition)}</summary>
        <dl class="set-facts">
          {factsOf(description, condition).map(([name, value]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
        </dl>
      </details>
      <SetPictures made={made} fileStem={description.setId} isComplete={isComplete} />
      <SetWords measures={measures} isComplete={isComplete} />
      <SwingTable
        swings={swingsOf(opened)}
        band={condition.sweetSpotBand}
        scoreSteps={description.scoreSteps}
        isEditing={model.isEditing.value}
        openSwing={model.openSwing.value}
        onLookAt={model.lookAt}
        onEdit={model.edit}
      />
      <SaveAs isBusy={model.isExporting.value} onSave={model.saveAs} />
    </>
  );
}

function summaryOf({ startedAtMs }: SetDescription, { implement, ball }: Condition): string {
  const day = new Date(startedAtMs).toLocaleDateString(undefined, { dateStyle: 'medium' });
  return `About this set: ${day}, ${implement}, ${ball}`;
}

function factsOf(
  description: SetDescription,
  condition: Condition,
): readonly (readonly [string, string])[] {
  const { upperArm, forearm } = description.lengthsM;
  const { implement, ball, implementLengthM } = condition;
  const statureM = description.armEstimatedFromStatureM;
  const cm = (metres: number): string => `${(metres * 100).toFixed(1)} cm`;
  const band = condition.sweetSpotBand;
  const started = new Date(description.startedAtMs);
  const sources = {
    simulated: 'simulated player (invented)',
    sensors: 'sensors',
    imported: 'imported file',
  };
  return [
    ['When', started.toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' })],
    ['From', sources[description.source]],
    ['Kit', `${implement}, ${ball}`],
    ['Striking hand', description.handedness],
    [
      'Upper arm, forearm, wrist to sweet spot',
      `${cm(upperArm)}, ${cm(forearm)}, ${cm(implementLengthM)}`,
    ],
    ...(statureM === undefined
      ? []
      : [['Upper arm and forearm', `estimated from a stature of ${cm(statureM)}`] as const]),
    [
      'Target reach, as planned',
      band === null ? 'none' : `${cm(band.reachM)} ± ${cm(band.halfWidthM)}`,
    ],
    // An opened set is always read in review.
    ['Reaches', 'read with hindsight, millimetres off those shown live'],
  ];
}
