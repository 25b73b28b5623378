import { useEffect, useMemo } from 'preact/hooks';
import { findSupportGaps, readBrowserFacts } from '../../devices/browser-support.ts';
import { beginSensorSet } from '../begin-set.ts';
import { chosenPlayer } from '../chosen-player.ts';
import { StepHead } from '../controls/StepHead.tsx';
import { watchCalibrations } from '../kit/calibrations-model.ts';
import { hashOf } from '../route.ts';
import { runningSet } from '../running-set.ts';
import type { WorkerClient } from '../worker-client.ts';
import { BlockFields } from './BlockFields.tsx';
import { Cautions } from './Cautions.tsx';
import { FeedbackFields } from './FeedbackFields.tsx';
import { KitFields } from './KitFields.tsx';
import { createLastPlan } from './last-plan.ts';
import { PlanSection } from './PlanSection.tsx';
import { createPlanModel, type PlanModel } from './plan-model.ts';
import { amountWords, feedbackWords, kitWords, orderWords, taskWords } from './plan-words.ts';
import { TaskFields } from './TaskFields.tsx';
import './plan.css';

/** Small enough to be read out and written down. */
const SEEDS = 10_000;

/** What is played in the next set: filled from the last plan, so that one tick and one tap begin it. */
export function PlanScreen({ client }: { readonly client: WorkerClient }) {
  const benches = useMemo(() => watchCalibrations(client), [client]);
  useEffect(() => benches.dispose, [benches]);
  const model = useMemo(
    () =>
      createPlanModel({
        client,
        lastPlan: createLastPlan(() => localStorage),
        newSeed: () => (crypto.getRandomValues(new Uint32Array(1))[0] ?? 0) % SEEDS,
        nowMs: Date.now,
        onBegin: (planned) => {
          const player = chosenPlayer.value;
          if (player === null) return;
          beginSensorSet(client, player, planned, benches.calibrations.value ?? []);
        },
      }),
    [client, benches],
  );
  useEffect(() => model.dispose, [model]);
  return (
    <main class="page plan">
      <StepHead back={{ screen: 'player' }} backWords="Player" title="Plan" />
      <form
        class="plan-form"
        onSubmit={(event) => {
          event.preventDefault();
          model.begin();
        }}
      >
        <PlanSections model={model} />
        <div class="plan-begin">
          <Cautions model={model} />
          {model.problem.value !== null && (
            <p class="notice" role="alert">
              {model.problem.value}
            </p>
          )}
          <Begin />
        </div>
      </form>
    </main>
  );
}

function PlanSections({ model }: { readonly model: PlanModel }) {
  const entry = model.entry.value;
  const isNew = entry.kits.some(({ implement }) => implement === '');
  return (
    <div class="plan-sections">
      <p class="plan-player">
        {chosenPlayer.value === null ? (
          'Nobody is chosen to play yet.'
        ) : (
          <>
            <b>{chosenPlayer.value.player}</b> plays.
          </>
        )}
      </p>
      <PlanSection
        title="Kit"
        now={kitWords(entry).map((words) => <span key={words}>{words}</span>)}
        startsOpen={isNew}
      >
        <KitFields model={model} />
      </PlanSection>
      <PlanSection
        title="Blocks"
        now={
          <>
            {amountWords(entry)}
            <BlockLetters words={orderWords(entry)} />
          </>
        }
      >
        <BlockFields model={model} />
      </PlanSection>
      <PlanSection title="Task" now={taskWords(entry)}>
        <TaskFields model={model} />
      </PlanSection>
      <PlanSection title="Feedback" now={feedbackWords(entry)}>
        <FeedbackFields model={model} />
      </PlanSection>
    </div>
  );
}

/** The order of blocks, one square each. @param words letters with spaces between */
function BlockLetters({ words }: { readonly words: string }) {
  return (
    <span class="plan-letters" role="img" aria-label={`Order of blocks: ${words}`}>
      {words.split(' ').map((letter, place) => (
        <span key={place} class={`plan-letter plan-letter-${letter}`} aria-hidden="true">
          {letter}
        </span>
      ))}
    </span>
  );
}

/** The way to the court, or why there is none. */
function Begin() {
  const gap = useMemo(() => findSupportGaps(readBrowserFacts())[0], []);
  if (runningSet.value !== null) {
    return (
      <a class="button primary" href={hashOf({ screen: 'court' })}>
        Back to the running set
      </a>
    );
  }
  if (gap !== undefined) {
    return (
      <p class="notice" role="alert">
        {gap.message}
      </p>
    );
  }
  return chosenPlayer.value === null ? (
    <a class="button primary" href={hashOf({ screen: 'player' })}>
      Choose the player
    </a>
  ) : (
    <button type="submit" class="primary">
      Go to the court
    </button>
  );
}
