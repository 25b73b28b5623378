import { TableError } from '../core/recording/table-error.ts';
import { PREVIEW_CHARS } from '../core/recording/table-preview.ts';
import { TableText } from '../core/recording/table-text.ts';

/** The first bytes of every gzip file: RFC 1952, 2.3.1. */
const GZIP = [0x1f, 0x8b];

/** The beginning of a table's text. @throws TableError when it is no text */
export async function readBeginning(
  file: Blob,
): Promise<{ readonly text: string; readonly isWhole: boolean }> {
  const beginning = new TableText();
  let chars = 0;
  for await (const piece of textPieces(file)) {
    const room = PREVIEW_CHARS - chars;
    beginning.take(piece.slice(0, room));
    chars += piece.length;
    if (chars > PREVIEW_CHARS) return { text: beginning.text(), isWhole: false };
  }
  return { text: beginning.text(), isWhole: true };
}

/** The whole text of a table, piece by piece, so that one that cannot be read is left early. @throws TableError */
export async function readWhole(
  file: Blob,
): Promise<{ readonly text: string; readonly lines: number }> {
  const whole = new TableText();
  for await (const piece of textPieces(file)) whole.take(piece);
  return { text: whole.text(), lines: whole.lines };
}

/** Text of a file, unpacked when it is gzipped, whatever its name; a byte order mark is dropped. */
async function* textPieces(file: Blob): AsyncGenerator<string, void, void> {
  const start = new Uint8Array(await file.slice(0, GZIP.length).arrayBuffer());
  const isGzip = GZIP.every((byte, i) => start[i] === byte);
  const stream = isGzip
    ? file.stream().pipeThrough(new DecompressionStream('gzip'))
    : file.stream();
  const reader = stream.getReader();
  const decoder = new TextDecoder('utf-8', { fatal: true });
  try {
    for (;;) {
      const { done, value } = await nextOf(reader, isGzip);
      const piece = decoded(decoder, value);
      if (piece !== '') yield piece;
      if (done) return;
    }
  } finally {
    // Whoever takes no more pieces lets go of the file; one that failed has nothing left to cancel.
    await reader.cancel().catch(() => {});
  }
}

async function nextOf(
  reader: ReadableStreamDefaultReader<Uint8Array<ArrayBuffer>>,
  isGzip: boolean,
): Promise<ReadableStreamReadResult<Uint8Array<ArrayBuffer>>> {
  try {
    return await reader.read();
  } catch {
    throw new TableError(
      isGzip
        ? 'The packed file is damaged and cannot be unpacked. Save it again, or unpack it first.'
        : 'The file cannot be read any more. Choose it again.',
    );
  }
}

/** @param bytes undefined at the end */
function decoded(decoder: TextDecoder, bytes: Uint8Array<ArrayBuffer> | undefined): string {
  try {
    return bytes === undefined ? decoder.decode() : decoder.decode(bytes, { stream: true });
  } catch {
    throw new TableError(
      'This is no text in UTF-8: a spreadsheet, another binary file, or a text in another encoding. Save the table as CSV (UTF-8).',
    );
  }
}
