import { Choice } from '../controls/Choice.tsx';
import { type Known, ofImplement, ofPlayer } from '../start/known-entry.ts';
import { LengthField } from '../start/LengthField.tsx';
import type { SensorSetEntry } from '../start/sensor-set.ts';

interface Props {
  readonly known: Known | null;
  readonly entry: SensorSetEntry;
  readonly onChange: (part: Partial<SensorSetEntry>) => void;
}

type TextField = 'player' | 'implement' | 'ball';
type LengthName = Extract<keyof SensorSetEntry, `${string}Cm`>;

/** Who played with what, and the tape measure's numbers. Whoever is known need not be measured again. */
export function PlayFields({ known, entry, onChange }: Props) {
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
        list={`table-${field}`}
        value={entry[field]}
        onInput={({ currentTarget: { value } }) =>
          onChange({ [field]: value, ...told(field, value) })
        }
      />
      <datalist id={`table-${field}`}>
        {names[field].map((name) => (
          <option key={name} value={name} />
        ))}
      </datalist>
    </label>
  );
  const length = (field: LengthName, label: string) => (
    <LengthField
      label={label}
      valueCm={entry[field]}
      onChange={(valueCm) => onChange({ [field]: valueCm })}
    />
  );
  return (
    <>
      {text('player', 'Player, a made-up name')}
      <Choice
        name="table-handedness"
        legend="Striking hand"
        value={entry.handedness}
        onChange={(handedness) => onChange({ handedness })}
        options={[
          { value: 'right', label: 'Right' },
          { value: 'left', label: 'Left' },
        ]}
      />
      {text('implement', 'Implement')}
      {text('ball', 'Ball')}
      <fieldset class="fields">
        <legend>Lengths, by tape measure</legend>
        {length('upperArmCm', 'Shoulder to elbow')}
        {length('forearmCm', 'Elbow to wrist')}
        {length('wristToSweetSpotCm', 'Wrist to sweet spot')}
      </fieldset>
      <fieldset class="fields">
        <legend>Where the sensors sat</legend>
        {length('upperArmSensorCm', 'Below the shoulder')}
        {length('forearmSensorCm', 'Below the elbow')}
        {length('implementSensorCm', 'Beyond the wrist')}
      </fieldset>
    </>
  );
}
