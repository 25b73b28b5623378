import { LengthField } from '../controls/LengthField.tsx';
import { TextField } from '../controls/TextField.tsx';
import { hasBand, kitLetter } from './kit-entry.ts';
import { MAX_KITS } from './plan-entry.ts';
import type { PlanModel } from './plan-model.ts';

/** The kits to be compared, or the only one: implement, ball and feed of each. */
export function KitFields({ model }: { readonly model: PlanModel }) {
  const { kits } = model.entry.value;
  const library = model.library.value;
  return (
    <>
      {kits.map((kit, place) => (
        <fieldset key={place} class="plan-kit">
          <legend class={kits.length === 1 ? 'out-of-sight' : ''}>Kit {kitLetter(place)}</legend>
          <TextField
            label="Implement"
            value={kit.implement}
            known={library?.implements.map(({ implement }) => implement) ?? []}
            onChange={(implement) => model.changeKit(place, { implement })}
          />
          <div class="fields">
            <LengthField
              label="Wrist to sweet spot"
              value={kit.wristToSweetSpotCm}
              onChange={(wristToSweetSpotCm) => model.changeKit(place, { wristToSweetSpotCm })}
            />
            <LengthField
              label="Wrist to its sensor"
              value={kit.implementSensorCm}
              onChange={(implementSensorCm) => model.changeKit(place, { implementSensorCm })}
            />
          </div>
          <div class="fields">
            <LengthField
              label="Reach hoped for, if known"
              required={false}
              value={kit.hopedReachCm}
              onChange={(hopedReachCm) => model.changeKit(place, { hopedReachCm })}
            />
            {hasBand(kit) && (
              <LengthField
                label="Good within ±"
                min={0.5}
                max={50}
                value={kit.halfWidthCm}
                onChange={(halfWidthCm) => model.changeKit(place, { halfWidthCm })}
              />
            )}
          </div>
          <TextField
            label="Ball"
            value={kit.ball}
            known={library?.balls.map(({ ball }) => ball) ?? []}
            onChange={(ball) => model.changeKit(place, { ball })}
          />
          <TextField
            label="Feed (optional)"
            required={false}
            value={kit.feed}
            known={FEEDS}
            onChange={(feed) => model.changeKit(place, { feed })}
          />
          {kits.length > 1 && (
            <button type="button" onClick={() => model.removeKit(place)}>
              Remove kit {kitLetter(place)}
            </button>
          )}
        </fieldset>
      ))}
      {kits.length < MAX_KITS && (
        <button type="button" class="plan-add" onClick={model.addKit}>
          Add a kit to compare
        </button>
      )}
    </>
  );
}

const FEEDS = ['from the hand', 'from the racket', 'machine', 'rally'];
