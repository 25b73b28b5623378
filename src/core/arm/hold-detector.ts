import { STANDARD_GRAVITY } from '../maths/angles.ts';
import { dot, norm, type Vector3, vector3 } from '../maths/vector.ts';

/** Finds holds: spells in which all three sensors are still. Plain data. */
export interface HoldDetector {
  /** Length of the present still spell, seconds; reported once when it reaches HOLD_S. */
  stillS: number;
  reported: boolean;
  samples: number;
  /** Mean specific force of each sensor over the spell, sensor frame, three of shape (3). */
  readonly gravity: readonly [Vector3, Vector3, Vector3];
}

/** A hold lasts at least this long, seconds (design: holds of 2 to 3 s). */
export const HOLD_S = 2;
/** Stiller than this counts as still: a child holding the arm out trembles by some 10 deg/s. */
const STILL_RATE_RAD_S = 0.3;
const STILL_ACCEL_MS2 = 1.2;
/** Nor may gravity wander away from its mean over the spell: a slow steady turn is no hold, m/s^2. */
const WANDER_MS2 = 1;
/** Settling time at the start of a spell that does not enter the mean, seconds. */
const SETTLE_S = 0.3;

/** Fresh detector. */
export function createHoldDetector(): HoldDetector {
  return {
    stillS: 0,
    reported: false,
    samples: 0,
    gravity: [vector3(), vector3(), vector3()],
  };
}

/** Forgets the present spell. */
export function resetHold(hold: HoldDetector): void {
  hold.stillS = 0;
  hold.reported = false;
  hold.samples = 0;
  for (const g of hold.gravity) g.fill(0);
}

/** What one sensor feels, its frame: rad/s and m/s^2, shape (3). */
interface Felt {
  readonly gyr: Vector3;
  readonly acc: Vector3;
}

/**
 * One instant of the three sensors.
 * @param stepS seconds since the last call
 * @returns true once per spell, when it has lasted HOLD_S; `hold.gravity` then holds the means
 */
export function stepHold(
  hold: HoldDetector,
  felt: readonly [Felt, Felt, Felt],
  stepS: number,
): boolean {
  const [upper, fore, implement] = felt;
  const still = holdsOn(hold, 0, upper) && holdsOn(hold, 1, fore) && holdsOn(hold, 2, implement);
  if (!still) {
    if (hold.stillS > 0) resetHold(hold);
    return false;
  }
  hold.stillS += stepS;
  if (hold.reported || hold.stillS < SETTLE_S) return false;
  hold.samples++;
  for (let k = 0; k < 3; k++) {
    const mean = hold.gravity[k]!;
    const { acc } = felt[k as 0 | 1 | 2];
    for (let i = 0; i < 3; i++) mean[i] = mean[i]! + (acc[i]! - mean[i]!) / hold.samples;
  }
  hold.reported = hold.stillS >= HOLD_S;
  return hold.reported;
}

function holdsOn(hold: HoldDetector, k: 0 | 1 | 2, { gyr, acc }: Felt): boolean {
  if (!isSensorStill(gyr, acc)) return false;
  return hold.samples === 0 || wander(acc, hold.gravity[k]) < WANDER_MS2;
}

/** Whether one sensor is as still as in a hold. @param gyr rad/s @param acc m/s^2, sensor frame, shape (3) */
export function isSensorStill(gyr: Vector3, acc: Vector3): boolean {
  if (!(dot(gyr, gyr) < STILL_RATE_RAD_S ** 2)) return false;
  return Math.abs(norm(acc) - STANDARD_GRAVITY) < STILL_ACCEL_MS2;
}

function wander(acc: Vector3, mean: Vector3): number {
  const x = acc[0]! - mean[0]!;
  const y = acc[1]! - mean[1]!;
  const z = acc[2]! - mean[2]!;
  return Math.sqrt(x * x + y * y + z * z);
}
