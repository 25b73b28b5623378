import { RAD_PER_DEG } from '../maths/angles.ts';
import type { Random } from '../maths/random.ts';
import { reachOf } from './arm-kinematics.ts';
import { ANGLES } from './player-poses.ts';
import type { MovementStrategy } from './session-types.ts';

/** Top of the backswing and contact of one swing, channels of the movement, radians and metres, shape (12) each. */
interface SwingEnds {
  readonly top: number[];
  readonly contact: number[];
}

/** What goes wrong in a swing, each strategy in its own way; see virtual-player.ts. @param lengthsM shape (3) */
export function deviate(
  random: Random,
  strategy: MovementStrategy,
  unsteady: number,
  lengthsM: readonly number[],
  ends: SwingEnds,
): void {
  if (isStiff(strategy)) {
    deviateStiffly(random, unsteady, STIFF_ERRORS[strategy], ends);
    return;
  }
  const start = swingDeviations(random, strategy, 5.5 * unsteady);
  const best = reachOf(Float64Array.from(ends.contact), lengthsM);
  const wantedM = best + random.normal(STEERED_REACH_SD_M * unsteady);
  const end =
    strategy === 'coupled' ? coupledDeviations(random, unsteady) : deviations(random, 4 * unsteady);
  for (let i = 0; i < ANGLES; i++) {
    ends.top[i] = ends.top[i]! + start[i]!;
    ends.contact[i] = ends.contact[i]! + end[i]!;
  }
  steer(ends.contact, STEERED[strategy], lengthsM, wantedM);
}

/** Independent deviations of the nine angles, radians. */
function deviations(random: Random, sdDeg: number): Float64Array {
  return Float64Array.from({ length: ANGLES }, () => random.normal(sdDeg * RAD_PER_DEG));
}

/** Deviations on the way to contact, of the nine angles, radians: none of a stiff arm, which carries its own. */
export function swingDeviations(
  random: Random,
  strategy: MovementStrategy,
  sdDeg: number,
): Float64Array {
  if (isStiff(strategy)) return new Float64Array(ANGLES);
  return strategy === 'coupled' ? distalDeviations(random, sdDeg) : deviations(random, sdDeg);
}

type StiffStrategy = 'frozen' | 'proximal';

/** Whether the elbow keeps its angle through the swing. */
export function isStiff(strategy: MovementStrategy): strategy is StiffStrategy {
  return strategy === 'frozen' || strategy === 'proximal';
}

/** Errors of a stiff arm at an unsteadiness of 1, SD of each angle in degrees. */
interface StiffErrors {
  /** Of the arm as a whole, from the shoulder. */
  readonly armDeg: number;
  readonly elbowDeg: number;
  readonly handDeg: number;
  /** The implement turns with the arm and its errors, or keeps its own direction. */
  readonly isHandCarried: boolean;
}

const STIFF_ERRORS: Readonly<Record<StiffStrategy, StiffErrors>> = {
  frozen: { armDeg: 2.5, elbowDeg: 1.5, handDeg: 8.5, isHandCarried: true },
  proximal: { armDeg: 8, elbowDeg: 1, handDeg: 3, isHandCarried: false },
};

/** Off at start and contact alike: the upper arm, the elbow a little, the hand by its own error. */
function deviateStiffly(
  random: Random,
  unsteady: number,
  { armDeg, elbowDeg, handDeg, isHandCarried }: StiffErrors,
  { top, contact }: SwingEnds,
): void {
  const start = deviations(random, unsteady * armDeg);
  for (let angle = 0; angle < 3; angle++) {
    const upperArm = start[angle]!;
    const forearm = upperArm + random.normal(elbowDeg * unsteady * RAD_PER_DEG);
    const hand = random.normal(handDeg * unsteady * RAD_PER_DEG);
    const parts = [upperArm, forearm, isHandCarried ? forearm + hand : hand];
    for (let k = 0; k < 3; k++) {
      top[3 * k + angle] = top[3 * k + angle]! + parts[k]!;
      contact[3 * k + angle] = contact[3 * k + angle]! + parts[k]!;
    }
  }
}

/** SD of the reach that online control leaves, metres, at an unsteadiness of 1. */
const STEERED_REACH_SD_M = 0.011;

/** Channels by which the reach is steered: turn and dip of forearm and implement, or of the implement alone. */
const STEERED = { distal: [3, 4, 6, 7], coupled: [6, 7] } as const;

/** How far forearm and implement turn along with the upper arm and the forearm; the latter leaves the reach as it is. */
const FOREARM_ALONG = 1.5;
const IMPLEMENT_ALONG = 1.3;

/** At contact the arm is off together, in the plane of the swing and more from part to part; all else is steady. Radians. */
function coupledDeviations(random: Random, unsteady: number): Float64Array {
  const off = deviations(random, unsteady);
  const own = (sdDeg: number) => random.normal(sdDeg * unsteady * RAD_PER_DEG);
  off[0] = own(3);
  off[3] = FOREARM_ALONG * off[0] + own(6.5);
  off[6] = IMPLEMENT_ALONG * off[3] + own(1);
  return off;
}

/** A steady upper arm, while forearm and implement are free on the way to contact. Radians. */
function distalDeviations(random: Random, sdDeg: number): Float64Array {
  return deviations(random, sdDeg).map((x, i) => (i < 3 ? 0.2 : 2.5) * x);
}

/** Moves some channels, as little as possible, until the reach is what is wanted. */
function steer(
  contact: number[],
  channels: readonly number[],
  lengthsM: readonly number[],
  wantedM: number,
): void {
  for (let pass = 0; pass < 4; pass++) {
    const reach = reachOf(Float64Array.from(contact), lengthsM);
    const gradient = channels.map((i) => {
      const moved = Float64Array.from(contact);
      moved[i] = moved[i]! + 1e-5;
      return (reachOf(moved, lengthsM) - reach) / 1e-5;
    });
    const square = gradient.reduce((sum, g) => sum + g * g, 0);
    channels.forEach((i, n) => {
      contact[i] = contact[i]! + (gradient[n]! * (wantedM - reach)) / square;
    });
  }
}
