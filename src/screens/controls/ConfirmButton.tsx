import { useEffect, useState } from 'preact/hooks';
import './confirm-button.css';

interface Props {
  readonly label: string;
  /** Shown in place of the label after the first tap. */
  readonly question: string;
  /** What it is about, for screen readers, where the same label stands more than once. */
  readonly about?: string;
  readonly onConfirm: () => void;
}

/** How long the question stands; a stray tap is forgotten after that. */
const QUESTION_MS = 3000;

/** A button for what cannot be undone: it asks once, in its own place, so that nothing on the screen moves. */
export function ConfirmButton({ label, question, about, onConfirm }: Props) {
  const [asking, setAsking] = useState(false);
  useEffect(() => {
    if (!asking) return;
    const timer = setTimeout(() => setAsking(false), QUESTION_MS);
    return () => clearTimeout(timer);
  }, [asking]);
  const press = (): void => {
    if (asking) onConfirm();
    setAsking(!asking);
  };
  return (
    <button type="button" class={asking ? 'asking' : ''} onClick={press}>
      {asking ? question : label}
      {about !== undefined && <span class="out-of-sight"> {about}</span>}
    </button>
  );
}
