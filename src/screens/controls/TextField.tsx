import { useId } from 'preact/hooks';
import './fields.css';

interface Props {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  /** What was said before, offered while typing. */
  readonly known?: readonly string[];
  readonly required?: boolean;
  /** One line below, small. */
  readonly hint?: string;
}

/** Longest name that is shown well everywhere. */
const MAX_LENGTH = 40;

/** One short text. */
export function TextField({ label, value, onChange, known = [], required = true, hint }: Props) {
  const id = useId();
  return (
    <label class="field">
      <span>{label}</span>
      <input
        type="text"
        required={required}
        maxLength={MAX_LENGTH}
        // Spaces alone are no name.
        pattern=".*\S.*"
        autocomplete="off"
        value={value}
        {...(known.length > 0 ? { list: id } : {})}
        onInput={(event) => onChange(event.currentTarget.value)}
      />
      {known.length > 0 && (
        <datalist id={id}>
          {known.map((name) => (
            <option key={name} value={name} />
          ))}
        </datalist>
      )}
      {hint !== undefined && <small class="soft">{hint}</small>}
    </label>
  );
}
