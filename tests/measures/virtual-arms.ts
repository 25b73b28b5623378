import { seededRandom } from '../../src/core/maths/random.ts';
import type { MeasuredSwing } from '../../src/core/measures/measured-swing.ts';

const RAD = Math.PI / 180;
type Three = readonly [number, number, number];

/**
 * A player in closed form: in-plane angles of upper arm, forearm, implement (degrees), on a tilted plane.
 *   theta_k(tau) = mean_k(tau) + sum over latents of z (steady + early (1 - tau) + late h(tau))
 * with z standard normal per swing, the same for the three segments, and h rising from 85 % to contact.
 */
export interface VirtualArm {
  readonly startDeg: Three;
  readonly contactDeg: Three;
  /** The implement lies back by this much until 85 %. */
  readonly cockedDeg?: number;
  readonly latents: readonly {
    readonly steady?: Three;
    readonly early?: Three;
    readonly late?: Three;
  }[];
  /** Swing n is at tau where the player's course is at tau + shift + lag (1 - tau); SDs. */
  readonly shiftSd?: number;
  readonly lagSd?: number;
}

export const LENGTHS_M: Three = [0.25, 0.2, 0.55];
/** Segments keep these angles out of the plane. */
export const OUT_OF_PLANE_DEG: Three = [12, -6, 4];
/** Axes of a plane that leans: rotation of the court's x-y plane by 25 degrees about x. */
const TILT = 25 * RAD;
const FIRST: Three = [1, 0, 0];
const SECOND: Three = [0, Math.cos(TILT), Math.sin(TILT)];
const NORMAL: Three = [0, -Math.sin(TILT), Math.cos(TILT)];
const NONE: Three = [0, 0, 0];

/** Swings of a player; same seed, same swings. */
export function swingsOf(arm: VirtualArm, n: number, seed: number): MeasuredSwing[] {
  const random = seededRandom(seed);
  return Array.from({ length: n }, () => {
    const z = arm.latents.map(() => random.normal(1));
    const shift = random.normal(arm.shiftSd ?? 0);
    const lag = random.normal(arm.lagSd ?? 0);
    const directions = new Float64Array(909);
    const reach = new Float64Array(101);
    for (let point = 0; point <= 100; point++) {
      const tau = point / 100;
      place(directions, point, anglesDeg(arm, tau, tau + shift + lag * (1 - tau), z));
      reach[point] = reachOf(directions, point);
    }
    return {
      reachCurveM: reach,
      reachCurveNoiseM: new Float64Array(101).fill(0.002),
      reachBeforeContactM: new Float64Array(61).fill(reach[100]!),
      directions,
      lengthsM: LENGTHS_M,
      courtHeadingKnown: true,
      durationS: 0.3,
      contactSpeedMS: 10,
      points: null,
      landingM: null,
    };
  });
}

/** In-plane angles at tau of a swing that is at `course` of the player's course; z one number for each latent. */
export function anglesDeg(
  arm: VirtualArm,
  tau: number,
  course: number,
  z: readonly number[],
): number[] {
  const way = Math.sign(course) * Math.abs(course) ** 1.6;
  const h = rise(tau);
  const angles = [0, 0, 0];
  for (let k = 0; k < 3; k++) {
    angles[k] = arm.startDeg[k]! + (arm.contactDeg[k]! - arm.startDeg[k]!) * way;
    for (let j = 0; j < arm.latents.length; j++) {
      const { steady = NONE, early = NONE, late = NONE } = arm.latents[j]!;
      angles[k]! += z[j]! * (steady[k]! + early[k]! * (1 - tau) + late[k]! * h);
    }
  }
  angles[2]! -= (arm.cockedDeg ?? 0) * (1 - rise(course));
  return angles;
}

/** 0 up to 85 %, 1 at contact, smooth. */
function rise(tau: number): number {
  const u = Math.min(1, Math.max(0, (tau - 0.85) / 0.15));
  return u * u * (3 - 2 * u);
}

function place(directions: Float64Array, point: number, anglesDeg: readonly number[]): void {
  for (let k = 0; k < 3; k++) {
    const up = OUT_OF_PLANE_DEG[k]! * RAD;
    const angle = anglesDeg[k]! * RAD;
    const x = Math.cos(up) * Math.cos(angle);
    const y = Math.cos(up) * Math.sin(angle);
    for (let i = 0; i < 3; i++)
      directions[9 * point + 3 * k + i] =
        x * FIRST[i]! + y * SECOND[i]! + Math.sin(up) * NORMAL[i]!;
  }
}

function reachOf(directions: Float64Array, point: number): number {
  let square = 0;
  for (let i = 0; i < 3; i++) {
    let along = 0;
    for (let k = 0; k < 3; k++) along += LENGTHS_M[k]! * directions[9 * point + 3 * k + i]!;
    square += along * along;
  }
  return Math.sqrt(square);
}
