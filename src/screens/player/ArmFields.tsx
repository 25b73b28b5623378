import {
  estimateSegmentLengths,
  MAX_STATURE_M,
  MIN_STATURE_M,
} from '../../core/arm/segment-lengths.ts';
import { Choice } from '../controls/Choice.tsx';
import { LengthField } from '../controls/LengthField.tsx';
import type { PlayerEntry } from './player-entry.ts';

interface Props {
  readonly entry: PlayerEntry;
  readonly onChange: (part: Partial<PlayerEntry>) => void;
}

/** Stature and arm: by tape measure or, for want of one, from stature, marked as an estimate. */
export function ArmFields({ entry, onChange }: Props) {
  const isByTape = entry.armBy === 'tape';
  return (
    <>
      <LengthField
        label={isByTape ? 'Stature, barefoot (optional)' : 'Stature, barefoot'}
        required={!isByTape}
        value={entry.statureCm}
        onChange={(statureCm) => onChange({ statureCm })}
        min={Math.round(100 * MIN_STATURE_M)}
        max={Math.round(100 * MAX_STATURE_M)}
      />
      <Choice
        name="arm-by"
        legend="Length of the arm"
        value={entry.armBy}
        onChange={(armBy) => onChange({ armBy })}
        options={[
          { value: 'tape', label: 'Tape measure' },
          { value: 'stature', label: 'From stature, an estimate' },
        ]}
      />
      {isByTape ? (
        <div class="fields">
          <LengthField
            label="Shoulder to elbow"
            value={entry.upperArmCm}
            onChange={(upperArmCm) => onChange({ upperArmCm })}
          />
          <LengthField
            label="Elbow to wrist"
            value={entry.forearmCm}
            onChange={(forearmCm) => onChange({ forearmCm })}
          />
        </div>
      ) : (
        <p class="soft">{estimateWords(entry.statureCm / 100)}</p>
      )}
    </>
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
