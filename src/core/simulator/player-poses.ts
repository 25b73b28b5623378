import { RAD_PER_DEG } from '../maths/angles.ts';

/** The first nine channels of the movement are angles, the other three the shoulder; see arm-kinematics.ts. */
export const ANGLES = 9;

// Turn, dip, twist of upper arm, forearm, implement in degrees, then the shoulder in metres: a
// right-hander's forehand drive in the court frame (x to the target, y left, z up). Invented.
export const PLUMB = [0, 90, 0, 0, 90, 0, 0, 90, 0, 0, 0, 1.1];
export const POINT = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1.1];
export const READY = [-25, 58, -10, 5, 12, 0, 25, -30, 0, 0, 0, 1.05];
export const TOP = [-125, 32, -25, -160, -8, -40, -205, -35, -50, -0.12, 0.02, 1.08];
export const CONTACT = [-82, 46, 0, -48, 24, -10, -84, 8, 0, 0.1, -0.02, 1.02];
export const FOLLOW = [-15, 22, 15, 35, -12, 30, 75, -28, 35, 0.2, 0.03, 1.1];
/** Angular velocity at contact, rad/s, and the shoulder's velocity, m/s. */
export const CONTACT_VELOCITY = [4.6, 0.6, 1.5, 9.5, 1.2, 3, 13.5, 2.2, 5, 0.5, -0.1, 0.1];
/** The stiff elbow: forearm turns with the upper arm, the wrist stays cocked until it is thrown late. */
export const STIFF_TOP = [-140, 32, -20, -106, 10, -30, -166, -10, -20, -0.12, 0.02, 1.08];
export const STIFF_VELOCITY = [7.2, 0.6, 1.5, 7.2, 0.6, 2, 13.5, 2, 4, 0.5, -0.1, 0.1];
export const LATE_HAND_OVER = 0.8;

/**
 * A pose, or its velocity, as channels of the movement.
 * @param pose nine angles in degrees, then the shoulder in metres, shape (12)
 * @param mirror true for a left-hander
 * @returns radians and metres, shape (12)
 */
export function radians(pose: readonly number[], mirror: boolean): number[] {
  return pose.map((value, i) => {
    // A left-hander is the mirror image in the plane of the target: turn, twist and y change sign.
    const flips = i < ANGLES ? i % 3 !== 1 : i === 10;
    return (mirror && flips ? -value : value) * (i < ANGLES ? RAD_PER_DEG : 1);
  });
}
