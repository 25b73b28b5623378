interface Props {
  readonly label: string;
  readonly accept: string;
  readonly isStill: boolean;
  readonly onFile: (file: File) => void;
}

/** Asks for one file. */
export function FileButton({ label, accept, isStill, onFile }: Props) {
  return (
    <label class={isStill ? 'button' : 'button storage-off'}>
      {label}
      <input
        type="file"
        class="out-of-sight"
        accept={accept}
        disabled={!isStill}
        onChange={(event) => {
          const file = event.currentTarget.files?.[0];
          if (file !== undefined) onFile(file);
          // the same file can be chosen again
          event.currentTarget.value = '';
        }}
      />
    </label>
  );
}
