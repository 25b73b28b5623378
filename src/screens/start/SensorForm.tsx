import { useState } from 'preact/hooks';
import { Choice } from '../controls/Choice.tsx';
import { ArmLengths } from './ArmLengths.tsx';
import { type Known, ofImplement, ofPlayer } from './known-entry.ts';
import { LengthField } from './LengthField.tsx';
import { FIRST_ENTRY, type SensorSetEntry } from './sensor-set.ts';

type NumberField = {
  [K in keyof SensorSetEntry]: SensorSetEntry[K] extends number ? K : never;
}[keyof SensorSetEntry];
type TextField = 'player' | 'implement' | 'ball';

interface Props {
  /** Players and kit of earlier sets; null while nobody knows. */
  readonly known: Known | null;
  readonly onStart: (entry: SensorSetEntry) => void;
}

/** Who plays with what, and the tape measure's numbers. */
export function SensorForm({ known, onStart }: Props) {
  const [entry, setEntry] = useState(FIRST_ENTRY);
  const change = (part: Partial<SensorSetEntry>): void => setEntry({ ...entry, ...part });
  const names: Readonly<Record<TextField, readonly string[]>> = {
    player: known?.players.map(({ player }) => player) ?? [],
    implement: known?.implements.map(({ implement }) => implement) ?? [],
    ball: known?.balls.map(({ ball }) => ball) ?? [],
  };
  const told = (field: TextField, name: string): Partial<SensorSetEntry> => {
    if (field === 'player') return ofPlayer(known, name);
    return field === 'implement' ? ofImplement(known, name) : {};
  };
  const text = (field: TextField, label: string) => (
    <label class="field">
      <span>{label}</span>
      <input
        required
        maxLength={60}
        list={`known-${field}`}
        value={entry[field]}
        onInput={({ currentTarget: { value } }) =>
          change({ [field]: value, ...told(field, value) })
        }
      />
      <datalist id={`known-${field}`}>
        {names[field].map((name) => (
          <option key={name} value={name} />
        ))}
      </datalist>
    </label>
  );
  const length = (field: NumberField, label: string, required = true) => (
    <LengthField
      label={label}
      valueCm={entry[field]}
      onChange={(valueCm) => change({ [field]: valueCm })}
      required={required}
    />
  );
  return (
    <form
      class="set-form"
      onSubmit={(event) => {
        event.preventDefault();
        onStart(entry);
      }}
    >
      {text('player', 'Player, a made-up name')}
      <Choice
        name="handedness"
        legend="Striking hand"
        value={entry.handedness}
        onChange={(handedness) => change({ handedness })}
        options={[
          { value: 'right', label: 'Right' },
          { value: 'left', label: 'Left' },
        ]}
      />
      {text('implement', 'Implement')}
      {text('ball', 'Ball')}
      <ArmLengths entry={entry} onChange={change} />
      <fieldset class="fields">
        <legend>Where the sensors sit</legend>
        {length('upperArmSensorCm', 'Below the shoulder')}
        {length('forearmSensorCm', 'Below the elbow')}
        {length('implementSensorCm', 'Beyond the wrist')}
      </fieldset>
      <fieldset class="fields">
        <legend>Sweet-spot band, if known</legend>
        {length('hopedReachCm', 'Reach hoped for', false)}
        {length('halfWidthCm', 'Good within ±')}
      </fieldset>
      <button type="submit" class="primary">
        Go to the court
      </button>
    </form>
  );
}
