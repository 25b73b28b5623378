import { ConfirmButton } from '../controls/ConfirmButton.tsx';
import { hashOf } from '../route.ts';
import type { CalibrationRow } from './calibrations-model.ts';
import { ImplementsCompared } from './ImplementsCompared.tsx';
import type { KitModel } from './kit-model.ts';
import { ballWords, dayOfMs, implementWords, sensorName } from './kit-words.ts';

/** Everything known, latest first. */
export function KitLists({ model }: { readonly model: KitModel }) {
  const library = model.library.value;
  if (library === null) return <p class="soft">Looking…</p>;
  return (
    <div class="kit-parts">
      <section class="kit-part">
        <h2>Implements</h2>
        {library.implements.length === 0 && (
          <p class="soft">Rackets, bats, sticks or paddles come here by themselves after a set.</p>
        )}
        <ul>
          {library.implements.map((row) => (
            <KitLine
              key={row.implement}
              name={row.implement}
              words={implementWords(row)}
              onEdit={() => model.enterImplement(row)}
            />
          ))}
        </ul>
        <button type="button" class="kit-add" onClick={() => model.enterImplement()}>
          Add an implement
        </button>
      </section>
      <section class="kit-part">
        <h2>Balls</h2>
        <ul>
          {library.balls.map((row) => (
            <KitLine
              key={row.ball}
              name={row.ball}
              words={ballWords(row)}
              onEdit={() => model.enterBall(row)}
            />
          ))}
        </ul>
        <button type="button" class="kit-add" onClick={() => model.enterBall()}>
          Add a ball
        </button>
      </section>
      <Sensors model={model} />
      <ImplementsCompared rows={library.implements} />
    </div>
  );
}

interface LineProps {
  readonly name: string;
  readonly words: readonly string[];
  readonly onEdit: () => void;
}

function KitLine({ name, words, onEdit }: LineProps) {
  return (
    <li>
      <span>
        <b class="kit-name">{name}</b>
        {words.map((piece) => (
          <span key={piece} class="soft">
            {piece}
          </span>
        ))}
      </span>
      <button type="button" onClick={onEdit}>
        Edit<span class="out-of-sight"> {name}</span>
      </button>
    </li>
  );
}

function Sensors({ model }: { readonly model: KitModel }) {
  const calibrations = model.calibrations.value ?? [];
  return (
    <section class="kit-part">
      <h2>Sensors</h2>
      <p>
        A bench calibration takes a sensor’s own errors away. It needs no tools and about four
        minutes; the next sets use it by themselves.
      </p>
      <ul>
        {calibrations.map((row) => (
          <SensorLine key={row.serial} row={row} model={model} />
        ))}
      </ul>
      <a class="button kit-add" href={hashOf({ screen: 'calibrate' })}>
        Calibrate a sensor
      </a>
    </section>
  );
}

function SensorLine({ row, model }: { readonly row: CalibrationRow; readonly model: KitModel }) {
  return (
    <li>
      <span>
        <b class="kit-name">{sensorName(row)}</b>
        <span class="soft">calibrated {dayOfMs(row.calibratedMs)}</span>
        <span class="soft">{row.calibration.rests} positions</span>
      </span>
      <ConfirmButton
        label="Forget"
        question="For good?"
        about={sensorName(row)}
        onConfirm={() => model.forgetCalibration(row.serial)}
      />
    </li>
  );
}
