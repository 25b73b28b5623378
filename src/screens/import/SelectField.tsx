interface Props<T> {
  readonly label: string;
  readonly options: readonly { readonly label: string; readonly value: T }[];
  /** null: nothing is chosen yet. */
  readonly value: T | null;
  readonly isSame?: (a: T, b: T) => boolean;
  readonly onChange: (value: T) => void;
}

/** One of many; must be chosen. */
export function SelectField<T>({
  label,
  options,
  value,
  isSame = (a, b) => a === b,
  onChange,
}: Props<T>) {
  const chosen = value === null ? -1 : options.findIndex((option) => isSame(option.value, value));
  return (
    <label class="field">
      <span>{label}</span>
      <select
        required
        value={chosen < 0 ? '' : String(chosen)}
        onChange={(event) => onChange(options[Number(event.currentTarget.value)]!.value)}
      >
        <option value="" disabled>
          Choose…
        </option>
        {options.map((option, place) => (
          <option key={option.label} value={String(place)}>
            {option.label}
          </option>
        ))}
      </select>
    </label>
  );
}
