import './fields.css';

interface Props {
  readonly label: string;
  /** NaN while nothing is typed. */
  readonly value: number;
  readonly unit?: 'cm' | 'm' | 'g';
  readonly onChange: (value: number) => void;
  readonly required?: boolean;
  readonly min?: number;
  readonly max?: number;
}

/** One length, in centimetres unless said otherwise, or a mass in grams. */
export function LengthField({
  label,
  value,
  unit = 'cm',
  onChange,
  required = true,
  min = 1,
  max = 250,
}: Props) {
  return (
    <label class="field field-length">
      <span>{label}</span>
      <span class="field-unit">
        <input
          type="number"
          inputMode="decimal"
          min={min}
          max={max}
          step={unit === 'm' ? '0.01' : '0.1'}
          required={required}
          value={Number.isNaN(value) ? '' : value}
          onInput={(event) => onChange(event.currentTarget.valueAsNumber)}
        />
        {unit}
      </span>
    </label>
  );
}
