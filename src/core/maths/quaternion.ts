import { cross, dot, norm, type Vector3, vector3 } from './vector.ts';

/**
 * Unit quaternion, Hamilton, scalar first (w, x, y, z), shape (4); active: v' = q v q*.
 * `qAFromB` turns coordinates in frame B into coordinates in frame A.
 */
export type Quaternion = Float64Array;

/** New quaternion; without arguments the identity. */
export function quaternion(w = 1, x = 0, y = 0, z = 0): Quaternion {
  return Float64Array.of(w, x, y, z);
}

/** Hamilton product p q. @param out may be p or q */
export function multiply(out: Quaternion, p: Quaternion, q: Quaternion): Quaternion {
  const pw = p[0]!,
    px = p[1]!,
    py = p[2]!,
    pz = p[3]!;
  const qw = q[0]!,
    qx = q[1]!,
    qy = q[2]!,
    qz = q[3]!;
  out[0] = pw * qw - px * qx - py * qy - pz * qz;
  out[1] = pw * qx + px * qw + py * qz - pz * qy;
  out[2] = pw * qy - px * qz + py * qw + pz * qx;
  out[3] = pw * qz + px * qy - py * qx + pz * qw;
  return out;
}

/** Conjugate: the inverse rotation. @param out may be q */
export function conjugate(out: Quaternion, q: Quaternion): Quaternion {
  out[0] = q[0]!;
  out[1] = -q[1]!;
  out[2] = -q[2]!;
  out[3] = -q[3]!;
  return out;
}

/** Rescales to norm 1 in place. @throws RangeError for a zero quaternion */
export function normaliseQuaternion(q: Quaternion): Quaternion {
  const n = Math.hypot(q[0]!, q[1]!, q[2]!, q[3]!);
  if (!(n > 0)) throw new RangeError('normaliseQuaternion: zero or NaN quaternion');
  return scaleQuaternion(q, 1 / n);
}

/** Furthest from 1 that the squared norm of what {@link renormalise} takes may be: it leaves less than 1e-12 then. */
const NEARLY_UNIT = 1e-6;

/**
 * Takes off what rounding does to the norm, in place: one step of Newton's method for 1 / |q| from 1, without the root and the
 * division of {@link normaliseQuaternion}, for each sample.
 * @throws RangeError unless q is a unit quaternion but for that
 */
export function renormalise(q: Quaternion): Quaternion {
  const excess = q[0]! * q[0]! + q[1]! * q[1]! + q[2]! * q[2]! + q[3]! * q[3]! - 1;
  if (!(Math.abs(excess) < NEARLY_UNIT)) throw new RangeError('renormalise: no unit quaternion');
  return scaleQuaternion(q, 1 - excess / 2);
}

function scaleQuaternion(q: Quaternion, scale: number): Quaternion {
  q[0] = scale * q[0]!;
  q[1] = scale * q[1]!;
  q[2] = scale * q[2]!;
  q[3] = scale * q[3]!;
  return q;
}

/** Rotated vector q v q*. @param out shape (3), may be v */
export function rotate(out: Vector3, q: Quaternion, v: Vector3): Vector3 {
  return rotateByRow(out, q, 0, v);
}

/** Inversely rotated vector q* v q. @param out shape (3), may be v */
export function rotateInverse(out: Vector3, q: Quaternion, v: Vector3): Vector3 {
  return rotateByRow(out, conjugate(inverse, q), 0, v);
}

const inverse = quaternion();

/**
 * As {@link rotate} by one row of a column of quaternions.
 * @param out shape (3), may be v @param column shape (4 n) @param at where the row begins @param v shape (3)
 */
export function rotateByRow(out: Vector3, column: Float64Array, at: number, v: Vector3): Vector3 {
  // Loose numbers in place of the arrays would be boxed at each call that the compiler does not inline.
  const w = column[at]!,
    x = column[at + 1]!,
    y = column[at + 2]!,
    z = column[at + 3]!;
  const vx = v[0]!,
    vy = v[1]!,
    vz = v[2]!;
  const tx = 2 * (y * vz - z * vy);
  const ty = 2 * (z * vx - x * vz);
  const tz = 2 * (x * vy - y * vx);
  out[0] = vx + w * tx + (y * tz - z * ty);
  out[1] = vy + w * ty + (z * tx - x * tz);
  out[2] = vz + w * tz + (x * ty - y * tx);
  return out;
}

/** Below this half angle, rad, the series of {@link fromRotationVector} are exact to double precision. */
const SMALL_HALF_ANGLE = 0.1;

/**
 * Exponential map: the rotation by |v| radians about v. Exact, also near zero.
 * @param out shape (4)
 */
export function fromRotationVector(out: Quaternion, x: number, y: number, z: number): Quaternion {
  const h = (x * x + y * y + z * z) / 4;
  let s: number;
  if (h < SMALL_HALF_ANGLE ** 2) {
    // cos(a/2) and sin(a/2)/a in powers of h = a^2/4, which at every sample is quicker, and exact near zero
    out[0] = 1 - (1 / 2) * h * (1 - (1 / 12) * h * (1 - (1 / 30) * h * (1 - (1 / 56) * h)));
    s = 0.5 * (1 - (1 / 6) * h * (1 - (1 / 20) * h * (1 - (1 / 42) * h * (1 - (1 / 72) * h))));
  } else {
    const half = Math.sqrt(h);
    out[0] = Math.cos(half);
    s = Math.sin(half) / (2 * half);
  }
  out[1] = s * x;
  out[2] = s * y;
  out[3] = s * z;
  return out;
}

/** Logarithm: rotation vector in radians, angle in [0, pi]. @param out shape (3) */
export function toRotationVector(out: Vector3, q: Quaternion): Vector3 {
  const sign = q[0]! < 0 ? -1 : 1;
  const n = Math.hypot(q[1]!, q[2]!, q[3]!);
  const factor = n > 1e-12 ? (sign * 2 * Math.atan2(n, sign * q[0]!)) / n : 2 * sign;
  out[0] = factor * q[1]!;
  out[1] = factor * q[2]!;
  out[2] = factor * q[3]!;
  return out;
}

/**
 * Angle between two orientations, theta = 2 atan2(|v|, |w|), (w, v) = conj(p) q.
 * @returns radians in [0, pi]
 * Checked: tests/maths/quaternion.test.ts against scipy.spatial.transform.
 */
export function quaternionAngle(p: Quaternion, q: Quaternion): number {
  const d = multiply(quaternion(), conjugate(quaternion(), p), q);
  return 2 * Math.atan2(Math.hypot(d[1]!, d[2]!, d[3]!), Math.abs(d[0]!));
}

/** Cosine of the angle in four dimensions above which two terms of the series of {@link slerp} leave less than 1e-13. */
const NEAR = 0.9999;

/**
 * Spherical linear interpolation along the shorter arc.
 * @param out shape (4), may be p or q  @param t 0 gives p, 1 gives q
 * Source: Shoemake 1985, SIGGRAPH 19(3):245; near each other by the series of Eberly 2011, "A fast and accurate
 * algorithm for computing SLERP", J Graphics Tools 15(3):161, doi 10.1080/2151237X.2011.610255.
 */
export function slerp(out: Quaternion, p: Quaternion, q: Quaternion, t: number): Quaternion {
  return slerpRows(out, p, 0, q, 0, t);
}

/**
 * As {@link slerp} between one row each of two columns of quaternions.
 * @param out shape (4), may be a column whose row begins at 0 @param p, q shape (4 n) @param atP, atQ where the rows begin
 */
export function slerpRows(
  out: Quaternion,
  p: Float64Array,
  atP: number,
  q: Float64Array,
  atQ: number,
  t: number,
): Quaternion {
  const pw = p[atP]!,
    px = p[atP + 1]!,
    py = p[atP + 2]!,
    pz = p[atP + 3]!;
  const qw = q[atQ]!,
    qx = q[atQ + 1]!,
    qy = q[atQ + 2]!,
    qz = q[atQ + 3]!;
  const c = pw * qw + px * qx + py * qy + pz * qz;
  const sign = c < 0 ? -1 : 1;
  const x = Math.min(1, Math.abs(c)) - 1;
  let wp: number;
  let wq: number;
  if (x > NEAR - 1) {
    // neighbouring samples, so at every sample: sin(t a) / sin(a) in powers of cos(a) - 1
    const back = (1 - t) * (1 - t);
    const forth = t * t;
    wp = (1 - t) * (1 + (1 / 3) * (back - 1) * x * (1 + (1 / 10) * (back - 4) * x));
    wq = sign * t * (1 + (1 / 3) * (forth - 1) * x * (1 + (1 / 10) * (forth - 4) * x));
  } else {
    const angle = Math.acos(x + 1);
    const s = Math.sin(angle);
    wp = Math.sin((1 - t) * angle) / s;
    wq = (sign * Math.sin(t * angle)) / s;
  }
  out[0] = wp * pw + wq * qw;
  out[1] = wp * px + wq * qx;
  out[2] = wp * py + wq * qy;
  out[3] = wp * pz + wq * qz;
  return renormalise(out);
}

/**
 * Rotation whose matrix has the given orthonormal columns.
 * @param x, y, z images of the three axes, each shape (3)
 * @throws RangeError when they are not right-handed orthonormal within 1e-6
 * Source: Shepperd 1978, J Guidance Control 1(3):223.
 */
export function fromAxes(out: Quaternion, x: Vector3, y: Vector3, z: Vector3): Quaternion {
  const turned = cross(vector3(), x, y);
  const off = Math.hypot(turned[0]! - z[0]!, turned[1]! - z[1]!, turned[2]! - z[2]!);
  // x and y unit and square, z = x cross y: together right-handed orthonormal
  const good =
    Math.max(Math.abs(norm(x) - 1), Math.abs(norm(y) - 1), Math.abs(dot(x, y)), off) < 1e-6;
  if (!good) throw new RangeError('fromAxes: axes are not right-handed orthonormal');
  const m00 = x[0]!,
    m11 = y[1]!,
    m22 = z[2]!;
  const trace = m00 + m11 + m22;
  if (trace >= Math.max(m00, m11, m22)) {
    out.set([1 + trace, y[2]! - z[1]!, z[0]! - x[2]!, x[1]! - y[0]!]);
  } else if (m00 >= Math.max(m11, m22)) {
    out.set([y[2]! - z[1]!, 1 + 2 * m00 - trace, y[0]! + x[1]!, z[0]! + x[2]!]);
  } else if (m11 >= m22) {
    out.set([z[0]! - x[2]!, y[0]! + x[1]!, 1 + 2 * m11 - trace, z[1]! + y[2]!]);
  } else {
    out.set([x[1]! - y[0]!, z[0]! + x[2]!, z[1]! + y[2]!, 1 + 2 * m22 - trace]);
  }
  return normaliseQuaternion(out);
}
