import { RAD_PER_DEG } from '../../src/core/maths/angles.ts';
import { type Random, seededRandom } from '../../src/core/maths/random.ts';
import {
  BEFORE_CONTACT_ROWS,
  BEFORE_CONTACT_STEP_S,
  type MeasuredSwing,
} from '../../src/core/measures/measured-swing.ts';

/**
 * Virtual players in closed form: turn and rise of three segments as smooth functions of the share of the
 * swing (0 start, 1 contact), deviations added, directions and reach by forward kinematics. All invented.
 */
export interface VirtualPlayer {
  /** Turn and rise of upper arm, forearm, implement at contact, rad, shape (6): turns first. */
  readonly contact: readonly number[];
  /** SD of the deviations that a swing begins with, rad, shape (6). */
  readonly deviationSd: number;
  /** 0: they are kept. 1: from mid-swing on they are corrected so that only `contactSd` of reach is left. */
  readonly steering: 0 | 1;
  readonly contactSdM: number;
  /** SD of tempo (or start found wrongly) and of the instant of contact, shares of the swing. */
  readonly lagSd: number;
  readonly shiftSd: number;
  /** Error of each direction: constant over a swing, and from instant to instant, SD, rad. */
  readonly constantErrorSd: number;
  readonly quickErrorSd: number;
  /** Heavy tails: deviations are t distributed with five degrees of freedom, of the same SD. */
  readonly heavyTails: boolean;
}

const LENGTHS_M = [0.29, 0.25, 0.6] as const;
const SWING_S = 0.3;
const TEMPO_SD = 0.05;

const degrees = (...values: number[]) => values.map((v) => v * RAD_PER_DEG);
/** Elbow and wrist bent at contact as much as at mid-swing. */
const BENT = degrees(-82, -30, -98, -40, 10, 0);
/** Within a few degrees of a straight line at contact. */
const STRAIGHT = degrees(-82, -74, -80, -20, -16, -18);
/** How far each turn and rise still has to go at the start: upper arm leads, implement comes last. */
const TO_GO = degrees(-45, -125, -135, 12, 16, 24);
/** The bent arm keeps its bends on the whole way. */
const TO_GO_BENT = degrees(-90, -110, -125, 12, 16, 24);

const ORDINARY: VirtualPlayer = {
  contact: BENT,
  deviationSd: 4 * RAD_PER_DEG,
  steering: 0,
  contactSdM: 0,
  lagSd: 0.02,
  shiftSd: 0.003,
  constantErrorSd: 0.3 * RAD_PER_DEG,
  quickErrorSd: 0.1 * RAD_PER_DEG,
  heavyTails: false,
};

const STILL: VirtualPlayer = { ...ORDINARY, deviationSd: 0, lagSd: 0, shiftSd: 0 };

export const PLAYERS = {
  /** Online control: forearm and implement are off independently, the implement makes up for it. */
  controlled: { ...ORDINARY, steering: 1, contactSdM: 0.01 },
  'controlled, straight arm': { ...ORDINARY, contact: STRAIGHT, steering: 1, contactSdM: 0.006 },
  'loosely controlled': { ...ORDINARY, steering: 1, contactSdM: 0.018 },
  ballistic: ORDINARY,
  'ballistic, heavy tails': { ...ORDINARY, heavyTails: true },
  'ballistic, arm straightens': { ...ORDINARY, contact: STRAIGHT },
  'arm straightens, heavy tails': { ...ORDINARY, contact: STRAIGHT, heavyTails: true },
  'arm straightens, timing varies': { ...ORDINARY, contact: STRAIGHT, lagSd: 0.08 },
  'tempo alone': { ...STILL, lagSd: 0.08 },
  'tempo and contact': { ...STILL, lagSd: 0.05, shiftSd: 0.02 },
  'noise alone': { ...STILL, constantErrorSd: RAD_PER_DEG, quickErrorSd: 0.5 * RAD_PER_DEG },
  'noise alone, straight arm': {
    ...STILL,
    contact: STRAIGHT,
    constantErrorSd: RAD_PER_DEG,
    quickErrorSd: 0.5 * RAD_PER_DEG,
  },
} satisfies Record<string, VirtualPlayer>;

/** A set of one player. */
export function virtualSet(player: VirtualPlayer, n: number, seed: number): MeasuredSwing[] {
  const random = seededRandom(seed);
  // Errors of the directions weigh as they do in a swing without deviation.
  const plain = { ...STILL, contact: player.contact, constantErrorSd: 0, quickErrorSd: 0 };
  const { directions, reachCurveM } = virtualSwing(plain, random, new Float64Array(101));
  const noiseM = noiseCurve(player, directions, reachCurveM);
  return Array.from({ length: n }, () => virtualSwing(player, random, noiseM));
}

function virtualSwing(player: VirtualPlayer, random: Random, noiseM: Float64Array): MeasuredSwing {
  const off = Float64Array.from({ length: 6 }, () => deviation(player, random));
  const landed = Float64Array.from({ length: 6 }, () => deviation(player, random));
  const wantedM = nominalReach(player) + random.normal(player.contactSdM);
  const lag = random.normal(player.lagSd);
  const shift = random.normal(player.shiftSd);
  const error = Float64Array.from({ length: 6 }, () => random.normal(player.constantErrorSd));
  const durationS = SWING_S * (1 + random.normal(TEMPO_SD));
  if (player.steering === 1) steerImplement(player.contact, landed, wantedM);

  const quick = Math.sqrt(3) * player.quickErrorSd;
  const toGo = player.contact === BENT ? TO_GO_BENT : TO_GO;
  const angles = new Float64Array(6);
  const directions = new Float64Array(101 * 9);
  const reachCurveM = Float64Array.from({ length: 101 }, (_, p) => {
    const share = p / 100;
    const s = share + shift + lag * (1 - share);
    const landing = player.steering * ramp(2 * s - 1);
    for (let a = 0; a < 6; a++) {
      // Segments one after another: the later one, the more of its way it goes late.
      const late = [0.3, 0.5, 0.7][a % 3]!;
      const left = (1 - s) * (1 - late) + late * (1 - s) * Math.abs(1 - s);
      const bend = left + late * (1 - left) * left;
      angles[a] =
        player.contact[a]! +
        toGo[a]! * bend +
        off[a]! * (1 - landing) +
        landed[a]! * landing +
        error[a]! +
        random.uniform(-quick, quick);
    }
    return forward(angles, directions, 9 * p);
  });
  const reachBeforeContactM = Float64Array.from({ length: BEFORE_CONTACT_ROWS }, (_, row) => {
    const left = ((BEFORE_CONTACT_ROWS - 1 - row) * BEFORE_CONTACT_STEP_S) / durationS;
    return left > 1 ? Number.NaN : between(reachCurveM, 100 * (1 - left));
  });
  return {
    reachCurveM,
    reachCurveNoiseM: noiseM,
    reachBeforeContactM,
    directions,
    lengthsM: LENGTHS_M,
    courtHeadingKnown: true,
    durationS,
    contactSpeedMS: 15,
    points: null,
    landingM: null,
  };
}

function between(column: Float64Array, position: number): number {
  const below = Math.min(99, Math.floor(position));
  return column[below]! + (position - below) * (column[below + 1]! - column[below]!);
}

function deviation(player: VirtualPlayer, random: Random): number {
  const z = random.normal(player.deviationSd);
  if (!player.heavyTails) return z;
  let chiSquare = 0;
  for (let k = 0; k < 5; k++) chiSquare += random.normal(1) ** 2;
  // A t variable with five degrees of freedom has variance 5/3.
  return (z / Math.sqrt(chiSquare / 5)) * Math.sqrt(3 / 5);
}

/** 0 up to 0, 1 from 1 on, smooth between. */
function ramp(x: number): number {
  const u = Math.max(0, Math.min(1, x));
  return u * u * (3 - 2 * u);
}

/** Directions of three segments and the length of their sum. */
function forward(angles: ArrayLike<number>, directions: Float64Array, start: number): number {
  let x = 0;
  let y = 0;
  let z = 0;
  for (let k = 0; k < 3; k++) {
    const flat = Math.cos(angles[3 + k]!);
    const at = start + 3 * k;
    directions[at] = flat * Math.cos(angles[k]!);
    directions[at + 1] = flat * Math.sin(angles[k]!);
    directions[at + 2] = Math.sin(angles[3 + k]!);
    x += LENGTHS_M[k]! * directions[at]!;
    y += LENGTHS_M[k]! * directions[at + 1]!;
    z += LENGTHS_M[k]! * directions[at + 2]!;
  }
  return Math.sqrt(x * x + y * y + z * z);
}

function nominalReach(player: VirtualPlayer): number {
  return forward(player.contact, new Float64Array(9), 0);
}

/**
 * Sets the turn of the implement so that the reach is as wanted, the other angles given:
 *   |u + L d|^2 = R^2 with d = (cos e cos a, cos e sin a, sin e) is A cos(a - phi) = B.
 * Out of reach: as near as it gets.
 */
function steerImplement(contact: readonly number[], off: Float64Array, wantedM: number): void {
  const angles = Float64Array.from(contact, (angle, a) => angle + off[a]!);
  const d = new Float64Array(9);
  forward(angles, d, 0);
  const [upper, fore, implement] = LENGTHS_M;
  const u = [0, 1, 2].map((axis) => upper * d[axis]! + fore * d[3 + axis]!);
  const flat = Math.cos(angles[5]!);
  const a = Math.hypot(u[0]!, u[1]!) * flat;
  const b =
    (wantedM ** 2 - u.reduce((sum, x) => sum + x * x, implement ** 2)) / (2 * implement) -
    u[2]! * Math.sin(angles[5]!);
  const phi = Math.atan2(u[1]!, u[0]!);
  const half = Math.acos(Math.max(-1, Math.min(1, b / a)));
  // The implement stays on the side of the arm where it was.
  const side = Math.sin(angles[2]! - phi) < 0 ? -1 : 1;
  off[2] = phi + side * half - contact[2]!;
}

/** Error of the reach from the errors of turn and rise, to first order. */
function noiseCurve(
  player: VirtualPlayer,
  directions: Float64Array,
  reachM: Float64Array,
): Float64Array {
  const variance = player.constantErrorSd ** 2 + player.quickErrorSd ** 2;
  return reachM.map((r, p) => {
    const d = (k: number, axis: number) => directions[9 * p + 3 * k + axis]!;
    const whole = (axis: number) =>
      LENGTHS_M[0] * d(0, axis) + LENGTHS_M[1] * d(1, axis) + LENGTHS_M[2] * d(2, axis);
    const [x, y, z] = [whole(0) / r, whole(1) / r, whole(2) / r];
    let square = 0;
    for (let k = 0; k < 3; k++) {
      const flat = Math.hypot(d(k, 0), d(k, 1));
      const byTurn = LENGTHS_M[k]! * (y * d(k, 0) - x * d(k, 1));
      const byRise = LENGTHS_M[k]! * (z * flat - (d(k, 2) * (x * d(k, 0) + y * d(k, 1))) / flat);
      square += byTurn ** 2 + byRise ** 2;
    }
    return Math.sqrt(variance * square);
  });
}
