import type { DrawnPicture } from './report-pictures.tsx';

/** Pixels of the drawing itself; paper and screen scale it. */
const SIZE = { width: 330, height: 210 } as const;

/** A picture with its caption, as large as its column. */
export function ReportPicture({ picture }: { readonly picture: DrawnPicture }) {
  return (
    <figure class="sheet-picture">
      <figcaption>
        <b>{picture.title}</b>
      </figcaption>
      <svg
        role="img"
        aria-label={`${picture.title}. ${picture.alternative}`}
        viewBox={`0 0 ${SIZE.width} ${SIZE.height}`}
      >
        {picture.draw(SIZE)}
      </svg>
      {picture.caption !== null && <p>{picture.caption}</p>}
    </figure>
  );
}
