import { useEffect, useMemo } from 'preact/hooks';
import { Choice } from '../controls/Choice.tsx';
import { LengthField } from '../controls/LengthField.tsx';
import { Stepper } from '../controls/Stepper.tsx';
import type { WorkerClient } from '../worker-client.ts';
import { BenchSensor } from './BenchSensor.tsx';
import { createBenchLink } from './bench-link.ts';
import type { ImplementEntry, MeasuredInertia } from './implement-entry.ts';
import { withError } from './kit-words.ts';
import { openBench } from './open-bench.ts';
import { PendulumPicture } from './PendulumPicture.tsx';
import {
  createPendulumModel,
  measuredInertia,
  type PendulumModel,
  weakestWords,
} from './pendulum-model.ts';

interface Props {
  readonly client: WorkerClient;
  /** With length, mass and balance point. */
  readonly implement: ImplementEntry;
  readonly onTaken: (inertia: MeasuredInertia) => void;
}

/** Hang it up, let it swing, time it. */
export function PendulumPanel({ client, implement, onTaken }: Props) {
  const model = useMemo(() => {
    const link = createBenchLink(client, 'swings', (source) => openBench('swings', source));
    return createPendulumModel(client, link);
  }, [client]);
  useEffect(() => model.dispose, [model]);
  const entry = model.entry.value;
  return (
    <div class="pendulum">
      <div class="pendulum-how">
        <PendulumPicture />
        <ol>
          <li>Hang it near the butt end from something thin and level: a peg, or two cords.</li>
          <li>If it has a face, let it swing face first.</li>
          <li>Push it a hand’s width, let go, and keep hands off.</li>
        </ol>
      </div>
      <p class="kit-caution">
        A mat below it, nobody within its reach, and somebody beside it until it hangs still.
      </p>
      <div class="fields">
        <LengthField
          label="Hangs at, from the butt end"
          min={0}
          required={false}
          value={entry.pivotCm}
          onChange={(pivotCm) => model.change({ pivotCm })}
        />
        <LengthField
          label="Inertia about, from the butt end"
          min={0}
          required={false}
          value={entry.axisCm}
          onChange={(axisCm) => model.change({ axisCm })}
        />
      </div>
      <Choice
        name="timed-by"
        legend="Timed by"
        value={entry.timedBy}
        onChange={(timedBy) => model.change({ timedBy })}
        options={[
          { value: 'taps', label: 'Two taps' },
          { value: 'sensor', label: 'Its sensor' },
        ]}
      />
      {entry.timedBy === 'taps' ? <Taps model={model} /> : <Felt model={model} />}
      <Answer model={model} implement={implement} onTaken={onTaken} />
    </div>
  );
}

function Taps({ model }: { readonly model: PendulumModel }) {
  const { swings, sideCm } = model.entry.value;
  const isTiming = model.startedMs.value !== null;
  return (
    <>
      <Stepper
        label="Whole swings to count"
        value={swings}
        min={10}
        max={60}
        step={5}
        onChange={(next) => model.change({ swings: next })}
      />
      <LengthField
        label="Far end swings to each side, about"
        min={1}
        max={30}
        required={false}
        value={sideCm}
        onChange={(next) => model.change({ sideCm: next })}
      />
      <button
        type="button"
        class={isTiming ? 'pendulum-tap pendulum-timing' : 'pendulum-tap'}
        onClick={(event) => model.tap(event.timeStamp)}
      >
        <b>{isTiming ? `Tap at swing ${swings}` : 'Tap to start'}</b>
        <span>
          {isTiming
            ? 'when it is on the same side again'
            : 'when it turns round on one side: that is zero'}
        </span>
      </button>
    </>
  );
}

function Felt({ model }: { readonly model: PendulumModel }) {
  const felt = model.felt.value;
  return (
    <>
      <BenchSensor link={model.link} onConnect={model.link.connect} />
      {felt !== null && (
        <p role="status">
          {felt.ok
            ? `${felt.swings} whole swings felt, ${felt.periodS.toFixed(4)} s each.`
            : felt.reason}
        </p>
      )}
    </>
  );
}

interface AnswerProps {
  readonly model: PendulumModel;
  readonly implement: ImplementEntry;
  readonly onTaken: (inertia: MeasuredInertia) => void;
}

function Answer({ model, implement, onTaken }: AnswerProps) {
  const answer = model.inertiaOf(implement);
  if (answer === null) return null;
  if (!answer.ok) {
    return (
      <p class="notice" role="alert">
        {answer.reason}
      </p>
    );
  }
  const { axisCm } = model.entry.value;
  return (
    <div class="pendulum-answer" role="status">
      <p>
        <b>{withError(answer.inertiaKgM2, 1.96 * answer.standardError)} kg m²</b>
        <span>
          about {axisCm} cm from the butt end; 95 % interval. {weakestWords(answer)}
        </span>
      </p>
      <button
        type="button"
        class="primary"
        onClick={() => onTaken(measuredInertia(answer, axisCm, Date.now()))}
      >
        Take this value
      </button>
    </div>
  );
}
