import './tick.css';

interface Props {
  readonly label: string;
  readonly isTicked: boolean;
  readonly onChange: (isTicked: boolean) => void;
  /** One line on what it is for, or why it cannot be had. */
  readonly hint?: string;
  readonly isRequired?: boolean;
  readonly isDisabled?: boolean;
}

/** Yes or no, as large as a thumb. */
export function Tick({
  label,
  isTicked,
  onChange,
  hint,
  isRequired = false,
  isDisabled = false,
}: Props) {
  return (
    <label class="tick">
      <input
        type="checkbox"
        checked={isTicked}
        required={isRequired}
        disabled={isDisabled}
        onChange={(event) => onChange(event.currentTarget.checked)}
      />
      <span>
        {label}
        {hint !== undefined && <small class="soft">{hint}</small>}
      </span>
    </label>
  );
}
