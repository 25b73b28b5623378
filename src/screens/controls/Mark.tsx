import './mark.css';

/** What a mark says. Its shape alone tells it; colour repeats it. */
export type MarkKind = 'in' | 'off' | 'unknown' | 'void' | 'good' | 'waiting' | 'trouble';

interface Props {
  readonly kind: MarkKind;
  readonly sizePx: number;
  /** Outline only, for what does not count. */
  readonly hollow?: boolean;
}

const PATHS: Readonly<Record<MarkKind, string>> = {
  in: 'M8 1a7 7 0 1 0 0 14a7 7 0 1 0 0-14z',
  off: 'M8 0.5L15.5 8L8 15.5L0.5 8z',
  unknown: 'M2 2h12v12h-12z',
  void: 'M2 4.5L4.5 2L8 5.5L11.5 2L14 4.5L10.5 8L14 11.5L11.5 14L8 10.5L4.5 14L2 11.5L5.5 8z',
  good: 'M1.5 8.5L4 6L6.6 8.6L12.5 2.5L15 5L6.6 13.5z',
  waiting: 'M1 6.5h14v3h-14z',
  trouble: 'M8 0.5L15.8 15H0.2zM7 5.5v5h2v-5zM7 11.7v2h2v-2z',
};

/** A small sign, hidden from screen readers: text beside it says the same. */
export function Mark({ kind, sizePx, hollow = false }: Props) {
  return (
    <svg
      class={`mark mark-${kind}${hollow ? ' hollow' : ''}`}
      width={sizePx}
      height={sizePx}
      viewBox="0 0 16 16"
      aria-hidden="true"
    >
      <path d={PATHS[kind]} fill-rule="evenodd" />
    </svg>
  );
}
