/** Why bytes from a sensor were refused; the same names stand in firmware-protocol/vectors.json. */
export type PacketFaultCode =
  | 'too-short'
  | 'wrong-version'
  | 'bad-count'
  | 'length-mismatch'
  | 'bad-checksum'
  | 'reserved-bits'
  | 'bad-span'
  | 'bad-tick-rate'
  | 'bad-rate'
  | 'bad-range'
  | 'bad-scale'
  | 'unknown-answer';

/** A refusal; `message` says what is wrong and what to do. */
export interface PacketFault {
  readonly code: PacketFaultCode;
  readonly message: string;
}

/**
 * A refusal in the shape every decoder of this folder answers with.
 * @param code the named reason
 * @param message what is wrong and what to do, for the coach or the maker of the sensor
 */
export function refuse(
  code: PacketFaultCode,
  message: string,
): { readonly ok: false; readonly fault: PacketFault } {
  return { ok: false, fault: { code, message } };
}
