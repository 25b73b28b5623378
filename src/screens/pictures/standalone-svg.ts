import { LETTER } from './text-size.ts';

/** What a saved picture is made of. */
export interface SavedDrawing {
  /** Inside of the SVG on the screen, its colours as `var(--name)`. */
  readonly inner: string;
  readonly width: number;
  readonly height: number;
  readonly title: string;
  readonly words: string;
  /** Value of a CSS variable: a colour, or the font. */
  readonly colourOf: (name: string) => string;
}

const MARGIN_PX = 16;
const TITLE_PX = 18;
const WORDS_PX = 14;
const LINE_PX = 22;
/** Mean width of a bold letter, as a share of its height. */
const BOLD_LETTER = 0.64;

/**
 * A drawing as a file of its own: colours resolved, on its own ground, title and sentence above.
 * @returns the text and its size in pixels
 * Checked: tests/screens/standalone-svg.test.ts
 */
export function standaloneSvg({ inner, width, height, title, words, colourOf }: SavedDrawing) {
  const lines = [
    ...wrapped(title, width / (BOLD_LETTER * TITLE_PX)).map((line) => ({ line, isTitle: true })),
    ...wrapped(words, width / (LETTER * WORDS_PX)).map((line) => ({ line, isTitle: false })),
  ];
  const head = lines.length * LINE_PX + 14;
  const size = { width: width + 2 * MARGIN_PX, height: height + head + 2 * MARGIN_PX };
  const text = lines.map(({ line, isTitle }, i) => {
    const font = isTitle ? `font-size="${TITLE_PX}" font-weight="700"` : `font-size="${WORDS_PX}"`;
    return `<text y="${(i + 1) * LINE_PX - 4}" ${font}>${escaped(line)}</text>`;
  });
  const body = [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${size.width}" height="${size.height}" viewBox="0 0 ${size.width} ${size.height}" font-family="var(--sans)">`,
    `<title>${escaped(`${title}. ${words}`)}</title>`,
    `<rect width="100%" height="100%" fill="var(--surface)"/>`,
    `<g transform="translate(${MARGIN_PX} ${MARGIN_PX})" fill="var(--ink)">`,
    ...text,
    `<g transform="translate(0 ${head})">${inner}</g></g></svg>`,
  ].join('');
  const resolved = body.replace(/var\((--[\w-]+)\)/g, (_, name: string) =>
    escaped(colourOf(name).replaceAll('"', "'")),
  );
  return { ...size, text: resolved };
}

/** Words in lines of at most so many letters; a longer word stands alone. */
function wrapped(words: string, letters: number): string[] {
  const lines: string[] = [];
  for (const word of words.split(' ')) {
    const longer = `${lines.at(-1) ?? ''} ${word}`.trim();
    if (lines.length > 0 && longer.length <= letters) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}
