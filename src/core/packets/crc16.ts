const POLYNOMIAL = 0x1021;
const START = 0xffff;

/** Remainder of each possible byte followed by so many zero bytes. */
function remainders(zeroBytes: number): Uint16Array {
  return Uint16Array.from({ length: 256 }, (_, byte) => {
    let remainder = byte << 8;
    for (let bit = 0; bit < 8 * (zeroBytes + 1); bit++) {
      remainder = remainder & 0x8000 ? (remainder << 1) ^ POLYNOMIAL : remainder << 1;
    }
    return remainder & 0xffff;
  });
}

const [LAST, THIRD, SECOND, FIRST] = [remainders(0), remainders(1), remainders(2), remainders(3)];

/**
 * CRC-16/IBM-3740 (also called CCITT-FALSE): polynomial 0x1021, start 0xFFFF, not reflected,
 * no final XOR.
 * @param bytes what to sum, any length; only this view is read @param length so many bytes of it, all unless said
 * @returns 0..65535; 0xFFFF for no bytes
 * Four bytes at a time: their look-ups do not wait for each other. Source: Kounavis & Berry 2005,
 * doi 10.1109/ISCC.2005.18 (slicing). RevEng catalogue of parametrised CRC algorithms, entry CRC-16/IBM-3740,
 * check value 0x29B1.  Checked: tests/packets/crc16.test.ts
 */
export function crc16(bytes: Uint8Array, length: number = bytes.length): number {
  let remainder = START;
  let i = 0;
  for (; i + 3 < length; i += 4) {
    remainder =
      FIRST[(remainder >> 8) ^ bytes[i]!]! ^
      SECOND[(remainder & 0xff) ^ bytes[i + 1]!]! ^
      THIRD[bytes[i + 2]!]! ^
      LAST[bytes[i + 3]!]!;
  }
  for (; i < length; i++) {
    remainder = ((remainder << 8) & 0xffff) ^ LAST[(remainder >> 8) ^ bytes[i]!]!;
  }
  return remainder;
}
