import {
  estimateSegmentLengths,
  MAX_STATURE_M,
  MIN_STATURE_M,
} from '../../core/arm/segment-lengths.ts';
import { Choice } from '../controls/Choice.tsx';
import { LengthField } from './LengthField.tsx';
import type { SensorSetEntry } from './sensor-set.ts';

interface Props {
  readonly entry: SensorSetEntry;
  readonly onChange: (part: Partial<SensorSetEntry>) => void;
}

/** Lengths of the segments: by tape measure or, for want of one, the arm from stature, marked as an estimate. */
export function ArmLengths({ entry, onChange }: Props) {
  return (
    <fieldset class="fields">
      <legend>Lengths</legend>
      <Choice
        name="arm-by"
        legend="Upper arm and forearm from"
        value={entry.armBy}
        onChange={(armBy) => onChange({ armBy })}
        options={[
          { value: 'tape', label: 'Tape measure' },
          { value: 'stature', label: 'Stature, an estimate' },
        ]}
      />
      {entry.armBy === 'tape' ? (
        <>
          <LengthField
            label="Shoulder to elbow"
            valueCm={entry.upperArmCm}
            onChange={(upperArmCm) => onChange({ upperArmCm })}
          />
          <LengthField
            label="Elbow to wrist"
            valueCm={entry.forearmCm}
            onChange={(forearmCm) => onChange({ forearmCm })}
          />
        </>
      ) : (
        <>
          <LengthField
            label="Stature, barefoot"
            valueCm={entry.statureCm}
            onChange={(statureCm) => onChange({ statureCm })}
            minCm={Math.round(100 * MIN_STATURE_M)}
            maxCm={Math.round(100 * MAX_STATURE_M)}
          />
          <p class="soft">{estimateWords(entry.statureCm / 100)}</p>
        </>
      )}
      <LengthField
        label="Wrist to sweet spot, by tape measure"
        valueCm={entry.wristToSweetSpotCm}
        onChange={(wristToSweetSpotCm) => onChange({ wristToSweetSpotCm })}
      />
    </fieldset>
  );
}

const CAUTION =
  'From adult proportions; a child’s arm can differ. Every reach is then off alike, its spread hardly.';

function estimateWords(statureM: number): string {
  if (!(statureM >= MIN_STATURE_M && statureM <= MAX_STATURE_M)) return CAUTION;
  const { upperArmM, forearmM } = estimateSegmentLengths(statureM);
  const cm = (metres: number): string => `${(100 * metres).toFixed(1)} cm`;
  return `Estimate: shoulder to elbow ${cm(upperArmM)}, elbow to wrist ${cm(forearmM)}. ${CAUTION}`;
}
