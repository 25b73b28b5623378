import { McapRecordBuilder } from '@mcap/core';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readSet } from '../../src/core/recording/set-reader.ts';
import { sampleDescription, sampleRecords, setFile } from './sample-set.ts';

const text = (value: string) => new TextEncoder().encode(value);

/** A file with a header, then whatever `write` adds, without an end. */
function fileWith(write: (builder: McapRecordBuilder) => void, profile = 'reach-funnel') {
  const builder = new McapRecordBuilder();
  builder.writeMagic();
  builder.writeHeader({ profile, library: 'test' });
  write(builder);
  return builder.buffer;
}

function metadata(description: unknown, formatVersion = '1') {
  return (builder: McapRecordBuilder) => {
    builder.writeMetadata({
      name: 'set',
      metadata: new Map([
        ['formatVersion', formatVersion],
        [
          'description',
          typeof description === 'string' ? description : JSON.stringify(description),
        ],
      ]),
    });
  };
}

function errorOf(bytes: Uint8Array) {
  const result = readSet(bytes);
  if (result.ok) throw new Error('the file was accepted');
  return result.error;
}

describe('readSet refuses', () => {
  // PNG signature: W3C PNG specification, section 5.2.
  const png = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13);

  it.each([
    ['an empty file', new Uint8Array(), 'empty'],
    ['a PNG picture', png, 'not-a-set-file'],
    ['a CSV table', text('t,gx,gy\n0,1,2\n'), 'not-a-set-file'],
    ['half a magic', Uint8Array.of(0x89, 0x4d, 0x43, 0x41), 'not-a-set-file'],
    ['bare magic', Uint8Array.of(0x89, 0x4d, 0x43, 0x41, 0x50, 0x30, 0x0d, 0x0a), 'no-description'],
    ['an MCAP file of another program', fileWith(() => {}, 'ros2'), 'wrong-profile'],
    ['a file without description', fileWith(() => {}), 'no-description'],
    ['a later format', fileWith(metadata(sampleDescription, '2')), 'wrong-version'],
    ['a description that is not JSON', fileWith(metadata('{"setId":')), 'bad-description'],
    ['a description that is a list', fileWith(metadata([])), 'bad-description'],
  ])('%s', (_, bytes, code) => {
    const error = errorOf(bytes);
    expect(error.code).toBe(code);
    expect(error.message).toMatch(/(Choose|choose|Update)/);
  });

  it('a file whose first record is not a header', () => {
    const builder = new McapRecordBuilder();
    builder.writeMagic();
    metadata(sampleDescription)(builder);
    expect(errorOf(builder.buffer).code).toBe('not-a-set-file');
  });

  it.each([
    ['setId', '../../etc'],
    ['setId', ''],
    ['setId', 'a'.repeat(81)],
    ['startedAtMs', '1700000000000'],
    ['startedAtMs', 1e300],
    ['source', 'elsewhere'],
    ['player', 7],
    ['player', 'x'.repeat(201)],
    ['handedness', null],
    ['lengthsM', { upperArm: 0.3, forearm: 0.25 }],
    ['lengthsM', { upperArm: 0.3, forearm: 0.25, implement: -1 }],
    ['lengthsM', { upperArm: 30, forearm: 0.25, implement: 0.5 }],
    ['sensorFromJointM', 0.1],
    ['sweetSpotBand', { reachM: 'far' }],
    ['sweetSpotBand', undefined],
    ['scoreSteps', [1, null]],
    ['scoreSteps', Array(101).fill(1)],
  ])('a description with a wrong %s (%j)', (field, value) => {
    const error = errorOf(fileWith(metadata({ ...sampleDescription, [field]: value })));
    expect(error.code).toBe('bad-description');
    expect(error.message).toContain(field);
  });
});

describe('readSet survives', () => {
  const head = setFile(sampleRecords, sampleDescription, false);

  function withTail(...tail: number[]) {
    return new Uint8Array([...head, ...tail]);
  }

  it.each([
    ['a record of 2^64 - 1 bytes', [5, 255, 255, 255, 255, 255, 255, 255, 255]],
    ['a record of 2^53 - 1 bytes', [5, 255, 255, 255, 255, 255, 255, 31, 0]],
    ['a record of 4 GB', [5, 0, 0, 0, 0, 1, 0, 0, 0]],
    ['a message of no bytes', [5, 0, 0, 0, 0, 0, 0, 0, 0]],
    ['a chunk of no bytes', [6, 0, 0, 0, 0, 0, 0, 0, 0]],
    ['zeros', Array<number>(64).fill(0)],
  ])('%s behind sound records', (_, tail) => {
    const result = readSet(withTail(...tail));
    if (!result.ok) throw new Error(result.error.message);
    expect(result.set.complete).toBe(false);
    expect(result.set.fault).not.toBeNull();
    expect(result.set.records.slice(0, sampleRecords.length)).toEqual(sampleRecords);
  });

  it('an event it does not know, and keeps what follows', () => {
    const unknown = text('{"type":"zero-requesteD"}');
    const bytes = setFile(sampleRecords);
    const at = Buffer.from(bytes).indexOf('{"type":"zero-requested"}');
    bytes.set(unknown, at);
    const result = readSet(bytes);
    if (!result.ok) throw new Error(result.error.message);
    expect(result.set.skippedRecords).toBe(1);
    expect(result.set.records).toEqual(sampleRecords.filter((_, i) => i !== 2));
    expect(result.set.fault).toMatch(/event type must be one of/);
  });

  it('a changed digit in a score, and reports the checksum', () => {
    const bytes = setFile(sampleRecords);
    const at = Buffer.from(bytes).indexOf('"points":3') + 9;
    bytes[at] = '5'.charCodeAt(0);
    const result = readSet(bytes);
    expect(result.ok && result.set.complete).toBe(false);
    expect(result.ok && result.set.fault).toMatch(/checksum/);
  });

  it('any byte changed anywhere', () => {
    const whole = setFile(sampleRecords);
    fc.assert(
      fc.property(fc.nat(whole.length - 1), fc.integer({ min: 1, max: 255 }), (at, change) => {
        const bytes = whole.slice();
        bytes[at] = bytes[at]! ^ change;
        const result = readSet(bytes);
        // The footer and closing magic lie behind the checksum; their fields are not used.
        if (result.ok && at < whole.length - 50) expect(result.set.complete).toBe(false);
      }),
      { numRuns: 500 },
    );
  });

  it('arbitrary bytes behind the magic', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (tail) => {
        const bytes = new Uint8Array([...head.subarray(0, 8), ...tail]);
        expect(readSet(bytes).ok).toBe(false);
      }),
    );
  });
});
