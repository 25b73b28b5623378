import { McapStreamReader } from '@mcap/core';
import { describe, expect, it } from 'vitest';
import { readSet } from '../../src/core/recording/set-reader.ts';

// MCAP conformance files NoData and OneMessage, byte for byte: foxglove/mcap@95d0673, tests/conformance/data.
const NO_DATA =
  '894d434150300d0a01080000000000000000000000000000000f040000000000000073c3faeb02140000000000000000000000000000000000000000000000b0c9c46f894d434150300d0a';
const ONE_MESSAGE =
  '894d434150300d0a01080000000000000000000000000000000319000000000000000100070000004578616d706c6501000000630300000004050604260000000000000001000100070000006578616d706c6501000000610e00000003000000666f6f0300000062617205190000000000000001000a000000020000000000000001000000000000000102030f04000000000000001fa120fb02140000000000000000000000000000000000000000000000b0c9c46f894d434150300d0a';

const bytesOf = (hex: string) => new Uint8Array(Buffer.from(hex, 'hex'));

/** Types of the records that the MCAP library finds, so that the copies above are known to be sound. */
function typesIn(bytes: Uint8Array): string[] {
  const reader = new McapStreamReader();
  reader.append(bytes);
  const types: string[] = [];
  for (let item = reader.nextRecord(); item !== undefined; item = reader.nextRecord()) {
    types.push(item.type);
  }
  expect(reader.done()).toBe(true);
  return types;
}

describe('an MCAP file of the format’s own conformance suite', () => {
  it.each([
    ['NoData', NO_DATA, 75, ['Header', 'DataEnd', 'Footer']],
    [
      'OneMessage',
      ONE_MESSAGE,
      190,
      ['Header', 'Schema', 'Channel', 'Message', 'DataEnd', 'Footer'],
    ],
  ])('%s is known as MCAP and refused as another program’s', (_, hex, length, types) => {
    const bytes = bytesOf(hex);
    expect(bytes.length).toBe(length);
    expect(typesIn(bytes)).toEqual(types);
    const result = readSet(bytes);
    expect(result).toMatchObject({ ok: false, error: { code: 'wrong-profile' } });
    expect(!result.ok && result.error.message).toMatch(
      /another program.*Choose a set file of this/,
    );
  });
});
