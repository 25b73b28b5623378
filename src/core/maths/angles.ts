export const RAD_PER_DEG = Math.PI / 180;
export const DEG_PER_RAD = 180 / Math.PI;

/** Standard acceleration of free fall, m/s^2 (BIPM SI brochure, 3rd CGPM 1901). */
export const STANDARD_GRAVITY = 9.80665;

/** Same angle in (-pi, pi]. */
export function wrapAngle(angleRad: number): number {
  const turns = Math.ceil((angleRad - Math.PI) / (2 * Math.PI));
  const wrapped = angleRad - turns * 2 * Math.PI;
  // rounding may leave it just outside
  return Math.min(Math.PI, wrapped);
}
