import type { PictureSpec } from '../pictures/picture-spec.ts';

/** Pictures whose sentences a coach asks for first: is reach held, does it score, which part of the arm controls. */
const FIRST_ASKED = ['funnel', 'sweet-spot', 'shares'];

interface Props {
  readonly pictures: readonly PictureSpec[];
  /** Their measures are being computed anew. */
  readonly isStale: boolean;
}

/** The sentences of the first few pictures together; each leads to its picture. Nothing until one is there. */
export function InShort({ pictures, isStale }: Props) {
  const asked = pictures.filter(({ id }) => FIRST_ASKED.includes(id));
  if (asked.length === 0) return null;
  return (
    <section class="set-short" aria-labelledby="set-short-title" aria-busy={isStale}>
      <h2 id="set-short-title">In short</h2>
      <ul>
        {asked.map(({ id, words }) => (
          <li key={id}>
            <button type="button" onClick={() => showPicture(id)}>
              {words}
              <span class="out-of-sight"> Show the picture.</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Not a link: the address names the screen. */
function showPicture(id: string): void {
  const picture = document.getElementById(`picture-${id}`);
  picture?.scrollIntoView();
  picture?.querySelector('h3')?.focus();
}
