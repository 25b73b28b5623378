import { Picture } from '../pictures/Picture.tsx';
import type { picturesOf } from '../pictures/pictures-of.ts';

interface Props {
  readonly made: ReturnType<typeof picturesOf>;
  /** Before the names of saved files: the set. */
  readonly fileStem: string;
  /** false while some measures are still being computed. */
  readonly isComplete: boolean;
}

/** All pictures of a set, each as soon as its measures are there. */
export function SetPictures({ made: { pictures, waiting }, fileStem, isComplete }: Props) {
  return (
    <section class="set-pictures" aria-labelledby="set-pictures-title" aria-busy={!isComplete}>
      <header>
        <h2 id="set-pictures-title">What these swings show</h2>
        <p class="soft" role="status">
          {progressWords(pictures.length, waiting, isComplete)}
        </p>
        {!isComplete && (
          <progress
            aria-label="Measures computed"
            max={pictures.length + waiting}
            value={pictures.length}
          />
        )}
      </header>
      <div class="picture-grid">
        {pictures.map((spec) => (
          <Picture
            key={spec.id}
            spec={spec}
            fileStem={fileStem}
            isStale={!isComplete && waiting === 0}
          />
        ))}
      </div>
    </section>
  );
}

function progressWords(made: number, waiting: number, isComplete: boolean): string {
  if (isComplete) return '';
  return waiting === 0 ? 'Computing anew…' : `Computing: ${made} of ${made + waiting} pictures…`;
}
