import { useRef, useState } from 'preact/hooks';
import { Choice } from '../controls/Choice.tsx';
import { useWidth } from './fill-box.ts';
import { NumbersTable } from './NumbersTable.tsx';
import type { PictureSpec, PictureView } from './picture-spec.ts';
import { saveCsv, savePng, saveSvg } from './save-picture.ts';
import './picture.css';

interface Props {
  readonly spec: PictureSpec;
  /** Before the names of saved files: the set. */
  readonly fileStem: string;
  /** Numbers are being computed anew. */
  readonly isStale?: boolean;
}

const ASPECT = 0.62;
/** Low enough for a wide screen, high enough for the axes on a phone, pixels. */
const MOST_HEIGHT_PX = 400;
const LEAST_HEIGHT_PX = 260;

/** One picture: sentence, drawing, and on demand what it is, its numbers, and files of it. */
export function Picture({ spec, fileStem, isStale = false }: Props) {
  const [wanted, setWanted] = useState(0);
  const view = spec.views[Math.min(wanted, spec.views.length - 1)];
  const id = `picture-${spec.id}`;
  return (
    <section
      class={`picture${isStale ? ' picture-stale' : ''}`}
      id={id}
      aria-labelledby={`${id}-title`}
    >
      {/* focused by what leads here */}
      <h3 id={`${id}-title`} tabIndex={-1}>
        {spec.title}
      </h3>
      <p class="picture-words">{spec.words}</p>
      {spec.more?.map((words) => (
        <p key={words} class="soft">
          {words}
        </p>
      ))}
      {spec.views.length > 1 && (
        <Choice
          name={`${id}-view`}
          legend="Look at"
          options={spec.views.map(({ label }, i) => ({ value: String(i), label }))}
          value={String(spec.views.indexOf(view!))}
          onChange={(value) => setWanted(Number(value))}
        />
      )}
      {view !== undefined && (
        <Drawing key={view.label} spec={spec} view={view} fileStem={`${fileStem}-${spec.id}`} />
      )}
      {view === undefined && <About spec={spec} />}
    </section>
  );
}

interface DrawingProps {
  readonly spec: PictureSpec;
  readonly view: PictureView;
  readonly fileStem: string;
}

function Drawing({ spec, view, fileStem }: DrawingProps) {
  const box = useRef<HTMLDivElement>(null);
  const svg = useRef<SVGSVGElement>(null);
  const width = useWidth(box);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [isOpen, setOpen] = useState(false);
  const height = heightFor(width, view);
  const save = (kind: 'png' | 'svg' | 'csv'): void => {
    const fileName = `${fileStem}.${kind}`;
    setTrouble(null);
    if (kind === 'csv') saveCsv(fileName, view.table);
    else if (svg.current === null) return;
    else if (kind === 'svg') saveSvg(fileName, svg.current, spec);
    else savePng(fileName, svg.current, spec).catch((error: Error) => setTrouble(error.message));
  };
  return (
    <>
      <div ref={box} class="picture-box">
        {width > 0 && (
          <svg
            ref={svg}
            role="img"
            aria-label={`${spec.title}. ${spec.words} ${view.alternative}`}
            width={width}
            height={height}
            viewBox={`0 0 ${width} ${height}`}
          >
            {view.draw({ width, height })}
          </svg>
        )}
      </div>
      <div class="picture-tools">
        <About spec={spec} />
        <details class="picture-more" onToggle={(event) => setOpen(event.currentTarget.open)}>
          <summary>Numbers and files</summary>
          {isOpen && (
            <>
              <NumbersTable table={view.table} name={spec.title} />
              <fieldset class="picture-save">
                <legend>
                  Save as<span class="out-of-sight"> file: {spec.title}</span>
                </legend>
                {(['png', 'svg', 'csv'] as const).map((kind) => (
                  <button key={kind} type="button" onClick={() => save(kind)}>
                    {kind.toUpperCase()}
                  </button>
                ))}
              </fieldset>
            </>
          )}
        </details>
      </div>
      {trouble !== null && (
        <p class="notice" role="alert">
          {trouble}
        </p>
      )}
    </>
  );
}

function About({ spec }: Pick<Props, 'spec'>) {
  return (
    <details class="picture-more">
      <summary>What is this?</summary>
      <p>{spec.explanation}</p>
      <p class="soft">Source: {spec.source}</p>
    </details>
  );
}

function heightFor(width: number, { aspect }: PictureView): number {
  const wanted = aspect === undefined ? Math.max(LEAST_HEIGHT_PX, ASPECT * width) : aspect * width;
  return Math.round(Math.min(MOST_HEIGHT_PX, wanted));
}
