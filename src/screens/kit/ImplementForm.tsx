import { useState } from 'preact/hooks';
import { LengthField } from '../controls/LengthField.tsx';
import type { WorkerClient } from '../worker-client.ts';
import type { ImplementEntry } from './implement-entry.ts';
import { KitForm } from './KitForm.tsx';
import type { KitModel, OpenForm } from './kit-model.ts';
import { inertiaWords } from './kit-words.ts';
import { PendulumPanel } from './PendulumPanel.tsx';

interface Props {
  readonly model: KitModel;
  readonly form: Extract<OpenForm, { kind: 'implement' }>;
  readonly client: WorkerClient;
}

/** One implement: what a set needs first, then what can be measured of it. */
export function ImplementForm({ model, form: { entry, isKnown }, client }: Props) {
  return (
    <KitForm
      model={model}
      label="Implement"
      name={entry.implement}
      isKnown={isKnown}
      onName={(implement) => model.changeImplement({ implement })}
    >
      <fieldset class="fields">
        <legend>In the hand</legend>
        <LengthField
          label="Wrist to sweet spot"
          value={entry.wristToSweetSpotCm}
          onChange={(wristToSweetSpotCm) => model.changeImplement({ wristToSweetSpotCm })}
        />
        <LengthField
          label="Wrist to its sensor"
          value={entry.wristToSensorCm}
          onChange={(wristToSensorCm) => model.changeImplement({ wristToSensorCm })}
        />
      </fieldset>
      <Measures entry={entry} onChange={model.changeImplement} />
      <Inertia entry={entry} onChange={model.changeImplement} client={client} />
    </KitForm>
  );
}

interface PartProps {
  readonly entry: ImplementEntry;
  readonly onChange: (part: Partial<ImplementEntry>) => void;
}

function Measures({ entry, onChange }: PartProps) {
  return (
    <fieldset class="fields">
      <legend>By itself (optional)</legend>
      <p class="soft">As it is swung: with its sensor, if it carries one.</p>
      <LengthField
        label="Whole length"
        required={false}
        value={entry.totalLengthCm}
        onChange={(totalLengthCm) => onChange({ totalLengthCm })}
      />
      <LengthField
        label="Mass"
        unit="g"
        required={false}
        max={5000}
        value={entry.massG}
        onChange={(massG) => onChange({ massG })}
      />
      <LengthField
        label="Balance point from the butt end"
        required={false}
        value={entry.balancePointCm}
        onChange={(balancePointCm) => onChange({ balancePointCm })}
      />
    </fieldset>
  );
}

function Inertia({ entry, onChange, client }: PartProps & { readonly client: WorkerClient }) {
  const [isOpen, setOpen] = useState(false);
  const { totalLengthCm, massG, balancePointCm, inertia } = entry;
  const canSwing = totalLengthCm > balancePointCm && massG > 0 && balancePointCm > 0;
  return (
    <section class="kit-inertia">
      <h2>Moment of inertia</h2>
      <p class={inertia === null ? 'soft' : 'kit-value'}>
        {inertia === null ? 'How hard it is to get swinging. Not measured.' : inertiaWords(inertia)}
      </p>
      {!canSwing && (
        <p class="soft">To measure it, first enter whole length, mass and balance point.</p>
      )}
      {canSwing && !isOpen && (
        <button type="button" class="kit-add" onClick={() => setOpen(true)}>
          {inertia === null ? 'Measure by swinging' : 'Measure again'}
        </button>
      )}
      {canSwing && isOpen && (
        <PendulumPanel
          client={client}
          implement={entry}
          onTaken={(taken) => {
            onChange({ inertia: taken });
            setOpen(false);
          }}
        />
      )}
    </section>
  );
}
