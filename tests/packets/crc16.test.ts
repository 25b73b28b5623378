import { expect, it } from 'vitest';
import { crc16 } from '../../src/core/packets/crc16.ts';

it('crc16 gives the published check value of CRC-16/IBM-3740', () => {
  // RevEng catalogue of parametrised CRC algorithms: CRC-16/IBM-3740, check = 0x29b1.
  expect(crc16(new TextEncoder().encode('123456789'))).toBe(0x29b1);
});

it('crc16 of no bytes is its start value', () => {
  expect(crc16(new Uint8Array())).toBe(0xffff);
});
