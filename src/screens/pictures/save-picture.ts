import { saveFile } from '../controls/save-file.ts';
import { pictureCsv } from './picture-csv.ts';
import type { PictureSpec, PictureTable } from './picture-spec.ts';
import { standaloneSvg } from './standalone-svg.ts';

/** A saved pixel picture is sharp in print. */
const PNG_SCALE = 2;

type Named = Pick<PictureSpec, 'title' | 'words'>;

/** Offers a drawing as an SVG file, in the colours it is seen in. */
export function saveSvg(fileName: string, svg: SVGSVGElement, spec: Named): void {
  saveFile(fileName, [new TextEncoder().encode(drawingOf(svg, spec).text)]);
}

/** Offers a drawing as a PNG file. @throws Error when the browser cannot paint it */
export async function savePng(fileName: string, svg: SVGSVGElement, spec: Named): Promise<void> {
  const { text, width, height } = drawingOf(svg, spec);
  const url = URL.createObjectURL(new Blob([text], { type: 'image/svg+xml' }));
  try {
    const image = new Image(width, height);
    image.src = url;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = PNG_SCALE * width;
    canvas.height = PNG_SCALE * height;
    canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/png'));
    if (blob === null) throw new Error('This browser could not make a PNG: save the SVG instead.');
    saveFile(fileName, [new Uint8Array(await blob.arrayBuffer())]);
  } finally {
    URL.revokeObjectURL(url);
  }
}

/** Offers the numbers of a picture as a CSV file. */
export function saveCsv(fileName: string, table: PictureTable): void {
  saveFile(fileName, [new TextEncoder().encode(pictureCsv(table))]);
}

function drawingOf(svg: SVGSVGElement, { title, words }: Named) {
  const style = getComputedStyle(svg);
  const { width, height } = svg.viewBox.baseVal;
  return standaloneSvg({
    inner: svg.innerHTML,
    width,
    height,
    title,
    words,
    colourOf: (name) => style.getPropertyValue(name).trim(),
  });
}
