import './choice.css';

interface Option<T extends string> {
  readonly value: T;
  readonly label: string;
}

interface Props<T extends string> {
  readonly name: string;
  readonly legend: string;
  readonly options: readonly Option<T>[];
  readonly value: T;
  readonly onChange: (value: T) => void;
  /** One below the other, for long labels. */
  readonly stacked?: boolean;
}

/** One of a few, all visible: radio buttons as large as a thumb. */
export function Choice<T extends string>({
  name,
  legend,
  options,
  value,
  onChange,
  stacked = false,
}: Props<T>) {
  return (
    <fieldset class="choice">
      <legend>{legend}</legend>
      <div class={stacked ? 'choice-options choice-stacked' : 'choice-options'}>
        {options.map((option) => (
          <label key={option.value} class="choice-option">
            <input
              type="radio"
              name={name}
              value={option.value}
              checked={option.value === value}
              onChange={() => onChange(option.value)}
            />
            <span>{option.label}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
