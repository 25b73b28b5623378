import { Choice } from '../controls/Choice.tsx';
import { LengthField } from '../controls/LengthField.tsx';
import { TextField } from '../controls/TextField.tsx';
import type { Library } from '../library-model.ts';
import { ofImplement } from '../plan/kit-entry.ts';
import { armOfKnown, type PlayEntry } from './play-entry.ts';

interface Props {
  readonly library: Library | null;
  readonly entry: PlayEntry;
  readonly onChange: (part: Partial<PlayEntry>) => void;
}

type LengthName = Extract<keyof PlayEntry, `${string}Cm`>;

/** Who played with what, and the tape measure's numbers. Whoever is known need not be measured again. */
export function PlayFields({ library, entry, onChange }: Props) {
  const length = (field: LengthName, label: string) => (
    <LengthField label={label} value={entry[field]} onChange={(cm) => onChange({ [field]: cm })} />
  );
  return (
    <>
      <TextField
        label="Player, a made-up name"
        value={entry.player}
        known={library?.players.map(({ player }) => player) ?? []}
        onChange={(player) => onChange({ player, ...armOfKnown(library, player) })}
      />
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
      <TextField
        label="Implement"
        value={entry.implement}
        known={library?.implements.map(({ implement }) => implement) ?? []}
        onChange={(implement) => onChange({ implement, ...ofImplement(library, implement) })}
      />
      <TextField
        label="Ball"
        value={entry.ball}
        known={library?.balls.map(({ ball }) => ball) ?? []}
        onChange={(ball) => onChange({ ball })}
      />
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
