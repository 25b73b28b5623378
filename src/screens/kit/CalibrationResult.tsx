import { DEG_PER_RAD } from '../../core/maths/angles.ts';
import { Mark } from '../controls/Mark.tsx';
import { hashOf } from '../route.ts';
import type { CalibrateModel, CalibrationOutcome } from './calibrate-model.ts';

interface Props {
  readonly model: CalibrateModel;
  readonly outcome: CalibrationOutcome;
}

/** What came of it: keep it or drop it, or what is missing. */
export function CalibrationResult({ model, outcome }: Props) {
  if (!outcome.ok) {
    return (
      <>
        <h2>No calibration yet</h2>
        <p class="notice" role="alert">
          {outcome.fault.message}
        </p>
        <button type="button" class="primary" onClick={model.goOn}>
          Add positions
        </button>
        <button type="button" onClick={model.beginAgain}>
          Begin again
        </button>
      </>
    );
  }
  return (
    <>
      <h2>{model.isTrial.value ? 'Calibrated, for trying out' : 'Calibrated'}</h2>
      <p role="status">{sentenceOf(outcome)}</p>
      <Numbers outcome={outcome} />
      <Ways model={model} />
    </>
  );
}

/** How to go on: a calibration is kept, dropped or made better; one of a simulated sensor is only looked at. */
function Ways({ model }: Pick<Props, 'model'>) {
  const isTrial = model.isTrial.value;
  if (isTrial || model.isKept.value) {
    return (
      <>
        {isTrial ? (
          <p class="kit-caution">
            A simulated sensor is none of yours: its calibration is not kept, and no set uses it.
          </p>
        ) : (
          <p class="calibrate-kept">
            <Mark kind="good" sizePx={18} /> Kept. The next sets with this sensor use it.
          </p>
        )}
        <a class="button primary" href={hashOf({ screen: 'kit' })}>
          Back to the kit
        </a>
      </>
    );
  }
  return (
    <>
      <button type="button" class="primary" onClick={model.keep}>
        Keep it
      </button>
      <button type="button" onClick={model.goOn}>
        Add positions
      </button>
      <button type="button" onClick={model.beginAgain}>
        Drop it and begin again
      </button>
    </>
  );
}

type Made = Extract<CalibrationOutcome, { readonly ok: true }>;

function sentenceOf({ row, gain }: Made): string {
  const { rests, restsSetAside } = row.calibration;
  const aside =
    restsSetAside === 0
      ? ''
      : ` ${restsSetAside} were set aside, because they contradict the others.`;
  const from = `It comes from ${rests} positions.${aside}`;
  if (gain === null) return from;
  const times = gain.turn.before / gain.turn.after;
  return times < 1.5
    ? `This sensor was good already: the calibration changes little. ${from}`
    : `After a turn it now knows where down is ${times.toFixed(0)} times as well. ${from}`;
}

function Numbers({ outcome: { row, gain } }: { readonly outcome: Made }) {
  const { gyroscope, accelerometer } = row.calibration;
  return (
    <table class="calibrate-numbers">
      <thead>
        <tr>
          <th scope="col">Off by, root mean square</th>
          <th scope="col">before</th>
          <th scope="col">after</th>
        </tr>
      </thead>
      <tbody>
        {gain !== null && (
          <>
            <tr>
              <th scope="row">Down after a turn, degrees</th>
              <td>{degrees(gain.turn.before)}</td>
              <td>{degrees(gain.turn.after)}</td>
            </tr>
            <tr>
              <th scope="row">Gravity at rest, m/s²</th>
              <td>{metres(gain.gravity.before)}</td>
              <td>{metres(gain.gravity.after)}</td>
            </tr>
          </>
        )}
        <tr>
          <th scope="row">Gyroscope’s scale and axes, worst standard error, %</th>
          <td>–</td>
          <td>{percent(Math.max(...gyroscope.matrixSE))}</td>
        </tr>
        <tr>
          <th scope="row">Accelerometer’s, worst standard error, %</th>
          <td>–</td>
          <td>{percent(Math.max(...accelerometer.matrixSE))}</td>
        </tr>
      </tbody>
    </table>
  );
}

function degrees(rad: number): string {
  return (rad * DEG_PER_RAD).toFixed(2);
}

function metres(ms2: number): string {
  return ms2.toFixed(3);
}

function percent(fraction: number): string {
  return (100 * fraction).toFixed(2);
}
