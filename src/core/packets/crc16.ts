const POLYNOMIAL = 0x1021;
const START = 0xffff;

/** Remainder of each possible high byte, so that a byte costs one look-up. */
const REMAINDERS = Uint16Array.from({ length: 256 }, (_, byte) => {
  let remainder = byte << 8;
  for (let bit = 0; bit < 8; bit++) {
    remainder = remainder & 0x8000 ? (remainder << 1) ^ POLYNOMIAL : remainder << 1;
  }
  return remainder & 0xffff;
});

/**
 * CRC-16/IBM-3740 (also called CCITT-FALSE): polynomial 0x1021, start 0xFFFF, not reflected,
 * no final XOR.
 * @param bytes what to sum, any length; only this view is read @param length so many bytes of it, all unless said
 * @returns 0..65535; 0xFFFF for no bytes
 * Source: RevEng catalogue of parametrised CRC algorithms, entry CRC-16/IBM-3740,
 * check value 0x29B1.  Checked: tests/packets/crc16.test.ts
 */
export function crc16(bytes: Uint8Array, length: number = bytes.length): number {
  let remainder = START;
  for (let i = 0; i < length; i++) {
    remainder = ((remainder << 8) & 0xffff) ^ REMAINDERS[(remainder >> 8) ^ bytes[i]!]!;
  }
  return remainder;
}
