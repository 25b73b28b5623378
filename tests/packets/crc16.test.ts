import fc from 'fast-check';
import { expect, it } from 'vitest';
import { crc16 } from '../../src/core/packets/crc16.ts';

it('crc16 gives the published check value of CRC-16/IBM-3740', () => {
  // RevEng catalogue of parametrised CRC algorithms: CRC-16/IBM-3740, check = 0x29b1.
  expect(crc16(new TextEncoder().encode('123456789'))).toBe(0x29b1);
});

it('crc16 of no bytes is its start value', () => {
  expect(crc16(new Uint8Array())).toBe(0xffff);
});

it('crc16 is the remainder bit by bit, whatever the length', () => {
  // The definition, ITU-T V.41 with start 0xFFFF: one bit at a time through the shift register.
  const register = (bytes: Uint8Array) => {
    let remainder = 0xffff;
    for (const byte of bytes) {
      for (let bit = 7; bit >= 0; bit--) {
        const isOut = ((remainder >> 15) ^ (byte >> bit)) & 1;
        remainder = ((remainder << 1) & 0xffff) ^ (isOut ? 0x1021 : 0);
      }
    }
    return remainder;
  };
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 40 }), (bytes) => {
      expect(crc16(bytes)).toBe(register(bytes));
      expect(crc16(bytes, bytes.length >> 1)).toBe(register(bytes.subarray(0, bytes.length >> 1)));
    }),
  );
});
