/** Centimetres to the millimetre, as a tape measure reads and the fields take them. */
export function centimetres(metres: number): number {
  return Math.round(1000 * metres) / 10;
}

/** Metres to the millimetre of what was typed in centimetres: 19.4 cm are 0.194 m, without a tail of digits. */
export function metresOf(centimetres: number): number {
  return Math.round(10 * centimetres) / 1000;
}
