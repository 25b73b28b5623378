/** One record of an MCAP file: where its bytes begin and end. */
export interface RecordSpan {
  readonly opcode: number;
  readonly start: number;
  readonly end: number;
}

/** Opcode of a Message record. */
export const MESSAGE = 0x05;
const MAGIC_BYTES = 8;

/**
 * Where the records of a whole MCAP file lie, found without the library under test.
 * Source: MCAP specification, section Records: opcode u8, length u64, content; little-endian.
 */
export function walkRecords(file: Uint8Array): readonly RecordSpan[] {
  const fields = new DataView(file.buffer, file.byteOffset, file.byteLength);
  const spans: RecordSpan[] = [];
  for (let at = MAGIC_BYTES; at < file.length - MAGIC_BYTES; ) {
    const end = at + 9 + Number(fields.getBigUint64(at + 1, true));
    spans.push({ opcode: file[at]!, start: at, end });
    at = end;
  }
  return spans;
}
