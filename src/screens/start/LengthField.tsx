interface Props {
  readonly label: string;
  /** NaN while nothing is typed. */
  readonly valueCm: number;
  readonly onChange: (valueCm: number) => void;
  readonly required?: boolean;
  readonly minCm?: number;
  readonly maxCm?: number;
}

/** One length in centimetres. */
export function LengthField({
  label,
  valueCm,
  onChange,
  required = true,
  minCm = 1,
  maxCm = 250,
}: Props) {
  return (
    <label class="field">
      <span>{label}</span>
      <span class="field-unit">
        <input
          type="number"
          inputMode="decimal"
          min={minCm}
          max={maxCm}
          step="0.1"
          required={required}
          value={Number.isNaN(valueCm) ? '' : valueCm}
          onInput={(event) => onChange(event.currentTarget.valueAsNumber)}
        />
        cm
      </span>
    </label>
  );
}
