/** A column of three numbers; also accepts any longer array, of which the first three count. */
export type Vector3 = Float64Array;

/** New vector of shape (3). */
export function vector3(x = 0, y = 0, z = 0): Vector3 {
  return Float64Array.of(x, y, z);
}

/** Scalar product. @param a, b shape (3) */
export function dot(a: Vector3, b: Vector3): number {
  return a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]!;
}

/** Euclidean length. @param a shape (3) */
export function norm(a: Vector3): number {
  return Math.sqrt(dot(a, a));
}

/** Vector product a x b, right-handed. @param out may be a or b */
export function cross(out: Vector3, a: Vector3, b: Vector3): Vector3 {
  const x = a[1]! * b[2]! - a[2]! * b[1]!;
  const y = a[2]! * b[0]! - a[0]! * b[2]!;
  const z = a[0]! * b[1]! - a[1]! * b[0]!;
  out[0] = x;
  out[1] = y;
  out[2] = z;
  return out;
}

/** a + factor * b. @param out may be a or b */
export function addScaled(out: Vector3, a: Vector3, factor: number, b: Vector3): Vector3 {
  out[0] = a[0]! + factor * b[0]!;
  out[1] = a[1]! + factor * b[1]!;
  out[2] = a[2]! + factor * b[2]!;
  return out;
}

/**
 * Scales a vector to length 1.
 * @throws RangeError for a vector too short to have a direction
 */
export function normalise(out: Vector3, a: Vector3): Vector3 {
  const length = norm(a);
  if (!(length > 1e-12)) throw new RangeError('normalise: a zero vector has no direction');
  out[0] = a[0]! / length;
  out[1] = a[1]! / length;
  out[2] = a[2]! / length;
  return out;
}

/** Angle between two directions, radians in [0, pi]; lengths do not matter. Source: W. Kahan, atan2 form. */
export function angleBetween(a: Vector3, b: Vector3): number {
  return Math.atan2(norm(cross(vector3(), a, b)), dot(a, b));
}

/** Turns a vector about the z axis in place. @param v shape (3) @param angleRad anticlockwise seen from +z */
export function turnAboutZ(v: Vector3, angleRad: number): Vector3 {
  const c = Math.cos(angleRad);
  const s = Math.sin(angleRad);
  const x = v[0]!;
  v[0] = c * x - s * v[1]!;
  v[1] = s * x + c * v[1]!;
  return v;
}
