import { useEffect, useMemo } from 'preact/hooks';
import { StepHead } from '../controls/StepHead.tsx';
import { keepAwake } from '../court/keep-awake.ts';
import type { WorkerClient } from '../worker-client.ts';
import { BenchSensor } from './BenchSensor.tsx';
import { createBenchLink } from './bench-link.ts';
import { CalibrationResult } from './CalibrationResult.tsx';
import { type CalibrateModel, createCalibrateModel } from './calibrate-model.ts';
import { sensorName } from './kit-words.ts';
import { openBench } from './open-bench.ts';
import { SidesPicture } from './SidesPicture.tsx';
import './kit.css';
import './calibrate.css';

/** Bench calibration of one sensor: rest, then position after position. */
export function CalibrateScreen({ client }: { readonly client: WorkerClient }) {
  const model = useMemo(() => {
    const link = createBenchLink(client, 'calibration', (source) =>
      openBench('calibration', source),
    );
    return createCalibrateModel(client, link);
  }, [client]);
  useEffect(() => model.dispose, [model]);
  // Both hands are busy for minutes.
  useEffect(keepAwake, []);
  const serial = model.serial.value;
  const trouble = model.trouble.value;
  return (
    <main class="page kit calibrate">
      <StepHead back={{ screen: 'kit' }} backWords="Kit" title="Calibrate a sensor" />
      {trouble !== null && (
        <p class="notice" role="alert">
          {trouble}
        </p>
      )}
      <div class="calibrate-main">
        <section class="kit-part">
          <h2>{serial === null ? 'The sensor' : nameOf(serial, model.isTrial.value)}</h2>
          <BenchSensor link={model.link} onConnect={model.connect} />
          {model.look.value === null && <Caution />}
        </section>
        <section class="kit-part calibrate-step">
          {model.outcome.value === null ? (
            <Steps model={model} />
          ) : (
            <CalibrationResult model={model} outcome={model.outcome.value} />
          )}
        </section>
      </div>
    </main>
  );
}

function nameOf(serial: string, isTrial: boolean): string {
  return isTrial ? 'A simulated sensor' : sensorName({ serial });
}

/** Before the sensor is taken up; later it would only push the count off a phone. */
function Caution() {
  return (
    <p class="kit-caution">
      Off the player, never on an arm. On something padded, so that a fall breaks nothing. No
      damaged, wet or hot battery.
    </p>
  );
}

function Steps({ model }: { readonly model: CalibrateModel }) {
  const look = model.look.value;
  if (look === null) {
    return (
      <>
        <h2>How it goes</h2>
        <ol class="calibrate-how">
          <li>Lay the sensor on a firm, padded table and connect it.</li>
          <li>Leave it alone for 20 seconds.</li>
          <li>
            Turn it onto another face, edge or corner, hold it still for 2 to 3 seconds, turn again:
            12 positions at least, 24 are good.
          </li>
        </ol>
      </>
    );
  }
  if (look.step === 'first-rest') {
    const left = Math.max(0, Math.ceil(look.neededS - look.stillS));
    return (
      <>
        <h2>Leave it alone</h2>
        <p class="calibrate-count" role="status">
          {left} s
        </p>
        <progress max={look.neededS} value={look.stillS} aria-label="First rest" />
        {look.problem !== null && <p class="notice">{look.problem}</p>}
      </>
    );
  }
  return <Positions model={model} look={look} />;
}

type PositionsLook = Extract<
  NonNullable<CalibrateModel['look']['value']>,
  { readonly step: 'positions' }
>;

function Positions({
  model,
  look,
}: {
  readonly model: CalibrateModel;
  readonly look: PositionsLook;
}) {
  const isSolving = model.isSolving.value;
  return (
    <>
      <h2>Turn, hold still, turn again</h2>
      <p class="calibrate-count">
        {look.positions}
        <span>
          {look.positions < look.needed
            ? `positions; ${look.needed} are needed, 24 are good`
            : 'positions; 24 are good'}
        </span>
      </p>
      <p class="calibrate-now" role="status">
        {nowWords(look)}
      </p>
      <SidesPicture used={look.sidesUsed} now={look.now?.side ?? null} />
      {look.next !== null && (
        <p class="soft">Farthest from any so far: {look.next} up, by the axes printed on it.</p>
      )}
      <button
        type="button"
        class="primary"
        disabled={!model.canSolve.value}
        onClick={model.solve}
        aria-busy={isSolving}
      >
        {isSolving ? 'Computing…' : 'Calibrate'}
      </button>
      {isSolving && <progress aria-label="Computing the calibration" />}
      <button type="button" onClick={model.beginAgain}>
        Begin again
      </button>
    </>
  );
}

function nowWords({ now, sidesUsed }: PositionsLook): string {
  if (now === null) return 'Turning…';
  if (now.isHeld) return 'Held: turn it to another side.';
  return sidesUsed.includes(now.side)
    ? 'This side was up before: another one tells more.'
    : 'A new side: hold it still.';
}
