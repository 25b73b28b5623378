import './stepper.css';

interface Props {
  readonly label: string;
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly step?: number;
  readonly onChange: (value: number) => void;
}

/** A whole number by two buttons, for wet or gloved thumbs. */
export function Stepper({ label, value, min, max, step = 1, onChange }: Props) {
  // From 12 in steps of 5 to 10 and 15.
  const less = Math.max(min, (Math.ceil(value / step) - 1) * step);
  const more = Math.min(max, (Math.floor(value / step) + 1) * step);
  return (
    <fieldset class="stepper">
      <legend class="out-of-sight">{label}</legend>
      <span aria-hidden="true">{label}</span>
      <button
        type="button"
        aria-label={`Fewer: ${label}`}
        disabled={value <= min}
        onClick={() => onChange(less)}
      >
        −
      </button>
      <output aria-live="polite">{value}</output>
      <button
        type="button"
        aria-label={`More: ${label}`}
        disabled={value >= max}
        onClick={() => onChange(more)}
      >
        +
      </button>
    </fieldset>
  );
}
