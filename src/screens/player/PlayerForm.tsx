import { Choice } from '../controls/Choice.tsx';
import { ConfirmButton } from '../controls/ConfirmButton.tsx';
import { LengthField } from '../controls/LengthField.tsx';
import { TextField } from '../controls/TextField.tsx';
import { Tick } from '../controls/Tick.tsx';
import { ArmFields } from './ArmFields.tsx';
import { CONSENT_NEEDED, dayOf } from './consent.ts';
import type { OpenForm, PlayerModel } from './player-model.ts';

interface Props {
  readonly model: PlayerModel;
  readonly form: OpenForm;
}

/** One player: who, consent, tape measure, where the sensors sit. */
export function PlayerForm({ model, form: { entry, isKnown } }: Props) {
  const hasConsent = entry.consentOn !== null;
  return (
    <form
      class="set-form player-form"
      onSubmit={(event) => {
        event.preventDefault();
        model.save();
      }}
    >
      {isKnown ? (
        <h2 class="player-name">{entry.player}</h2>
      ) : (
        <TextField
          label="Player, a made-up name"
          hint="Never a real name: it goes into every file."
          value={entry.player}
          onChange={(player) => model.change({ player })}
        />
      )}
      {model.problem.value !== null && (
        <p class="notice" role="alert">
          {model.problem.value}
        </p>
      )}
      <Choice
        name="handedness"
        legend="Striking hand"
        value={entry.handedness}
        onChange={(handedness) => model.change({ handedness })}
        options={[
          { value: 'right', label: 'Right' },
          { value: 'left', label: 'Left' },
        ]}
      />
      <ArmFields entry={entry} onChange={model.change} />
      <fieldset class="fields">
        <legend>Where the sensors sit</legend>
        <LengthField
          label="Below the shoulder"
          value={entry.upperArmSensorCm}
          onChange={(upperArmSensorCm) => model.change({ upperArmSensorCm })}
        />
        <LengthField
          label="Below the elbow"
          value={entry.forearmSensorCm}
          onChange={(forearmSensorCm) => model.change({ forearmSensorCm })}
        />
      </fieldset>
      <div class="fields">
        <Tick
          label="Player and parent agree to the recording"
          {...(hasConsent ? {} : { hint: CONSENT_NEEDED })}
          isTicked={hasConsent}
          onChange={(agree) => model.change({ consentOn: agree ? dayOf(new Date()) : null })}
        />
        {entry.consentOn !== null && (
          <label class="field field-length">
            <span>Agreed on</span>
            <input
              type="date"
              required
              max={dayOf(new Date())}
              value={entry.consentOn}
              onInput={(event) => model.change({ consentOn: event.currentTarget.value })}
            />
          </label>
        )}
      </div>
      <button type="submit" class="primary">
        {hasConsent ? 'Save, then plan' : 'Save without consent'}
      </button>
      {model.players.value?.length !== 0 && (
        <div class="player-aside">
          <button type="button" onClick={model.leave}>
            Back to the players
          </button>
          {isKnown && (
            <ConfirmButton
              label="Delete player"
              question="With all sets, for good?"
              onConfirm={model.deletePlayer}
            />
          )}
        </div>
      )}
    </form>
  );
}
