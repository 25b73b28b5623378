import type { ComponentProps } from 'preact';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import { Choice } from '../controls/Choice.tsx';
import { StepHead } from '../controls/StepHead.tsx';
import type { WorkerClient } from '../worker-client.ts';
import { AnswerPanel } from './AnswerPanel.tsx';
import { answerOf } from './answer-words.ts';
import { ComparedNumbers } from './ComparedNumbers.tsx';
import { LETTERS } from './comparable.ts';
import { isSameKit } from './compared-pair.ts';
import { PlayerChoice } from './PlayerChoice.tsx';
import { nameOf } from './pair-kits.ts';
import { SideChoice } from './SideChoice.tsx';
import {
  createSideBySideModel,
  type Progress,
  type SideBySideModel,
} from './side-by-side-model.ts';
import './side-by-side.css';

interface Props {
  readonly client: WorkerClient;
  /** null: to be chosen. */
  readonly player: string | null;
}

/** Two conditions of a player, or two of their sets: what differs, and which kit serves better. */
export function SideBySideScreen({ client, player }: Props) {
  return (
    <main class="page side-by-side">
      <StepHead
        back={player === null ? { screen: 'start' } : { screen: 'side-by-side', player: null }}
        backWords={player === null ? 'Start' : 'Players'}
        title={player === null ? 'Side by side' : `Side by side: ${player}`}
      />
      {player === null ? (
        <PlayerChoice client={client} />
      ) : (
        <Sides key={player} client={client} player={player} />
      )}
    </main>
  );
}

function Sides({ client, player }: { readonly client: WorkerClient; readonly player: string }) {
  const model = useMemo(() => createSideBySideModel(client, player), [client, player]);
  useEffect(() => model.dispose, [model]);
  const comparable = model.comparable.value;
  const pair = model.pair.value;
  const progress = model.progress.value;
  const shown = useAnswer(model);
  return (
    <>
      {model.trouble.value !== null && (
        <p class="notice" role="alert">
          {model.trouble.value}
        </p>
      )}
      {comparable !== null && pair !== null && (
        <div class="sides">
          {LETTERS.map((letter) => (
            <SideChoice
              key={letter}
              letter={letter}
              pair={pair}
              comparable={comparable}
              model={model}
            />
          ))}
        </div>
      )}
      {model.problem.value !== null && <p class="side-problem">{model.problem.value}</p>}
      <div role="status" class="side-progress">
        {progress !== null && <ProgressLine progress={progress} />}
      </div>
      {shown !== null && <AnswerPanel {...shown} />}
      <p role="status" class="out-of-sight">
        {shown === null || shown.isStale ? '' : `${shown.answer.head}. ${shown.answer.sentence}`}
      </p>
      {(shown !== null || model.problem.value !== null) && <KitQuestions model={model} />}
      <ComparedNumbers model={model} player={player} />
    </>
  );
}

/** The newest answer: it stays, marked stale, while the next is computed, so that the questions below it do not leap. */
function useAnswer(model: SideBySideModel): ComponentProps<typeof AnswerPanel> | null {
  const newest = useRef<Omit<ComponentProps<typeof AnswerPanel>, 'isStale'> | null>(null);
  const [compared, decision, pair] = [model.compared.value, model.decision.value, model.pair.value];
  if (model.problem.value !== null) newest.current = null;
  else if (compared !== null && decision !== null && pair !== null) {
    newest.current = { answer: answerOf(decision, compared.comparison, pair), pair };
  }
  return newest.current === null ? null : { ...newest.current, isStale: compared === null };
}

function ProgressLine({ progress: { words, done, of } }: { readonly progress: Progress }) {
  return (
    <>
      <span class="soft">
        {words}: {done} of {of}
      </span>
      <progress aria-label={words} max={of} value={done} />
    </>
  );
}

/** What the numbers cannot know: which kit is played now and, of equally long ones, which is the larger. */
function KitQuestions({ model }: { readonly model: SideBySideModel }) {
  const pair = model.pair.value;
  if (pair === null || isSameKit(pair)) return null;
  const options = LETTERS.map((letter) => {
    const name = nameOf(pair, letter);
    return { value: letter, label: name === letter ? letter : `${letter}: ${name}` };
  });
  return (
    <div class="side-questions">
      <Choice
        name="current"
        legend="Which does the player use now?"
        options={options}
        value={pair.current}
        onChange={model.setCurrent}
      />
      {pair.isLengthEqual && (
        <div>
          <Choice
            name="larger"
            legend="Counts as the larger kit"
            options={options}
            value={pair.kits.A.kit === 'larger' ? 'A' : 'B'}
            onChange={model.setLarger}
          />
          <p class="soft">
            The implements are equally long, so you say which is the larger kit: the heavier
            implement, or the harder, faster ball.
          </p>
        </div>
      )}
    </div>
  );
}
