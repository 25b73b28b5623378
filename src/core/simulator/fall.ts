import { STANDARD_GRAVITY } from '../maths/angles.ts';
import {
  conjugate,
  fromRotationVector,
  multiply,
  type Quaternion,
  quaternion,
  rotate,
  rotateInverse,
  toRotationVector,
} from '../maths/quaternion.ts';
import type { Random } from '../maths/random.ts';
import { addScaled, cross, type Vector3, vector3 } from '../maths/vector.ts';
import { direction, type IdealSignals, type Knock } from './knock.ts';

/** A part of a fall: either free flight with a steady turn, or a smooth turn about a centre of mass at rest or lifted. */
interface FallPart {
  readonly fromS: number;
  readonly toS: number;
  /** qCourtFromSegment at the beginning. */
  readonly qFrom: Quaternion;
  /** In free flight the angular velocity, segment frame, rad/s; null otherwise. */
  readonly flightRateRadS: Vector3 | null;
  /** Rotation vector from beginning to end, segment frame, rad, and the way up meanwhile, metres. */
  readonly turnRad: Vector3;
  readonly liftM: number;
}

/** The implement out of the hand, from letting go until it is held again. */
export interface Fall {
  readonly fromS: number;
  readonly toS: number;
  readonly parts: readonly FallPart[];
}

/** From the implement's centre of mass to its sensor, segment frame, metres: a junior racket held at its grip. */
const SENSOR_FROM_CENTRE_M = vector3(-0.15);
/** Height of the hand, part of the speed kept by a bounce on hard ground, angular speeds; common practice, no source. */
const HEIGHT_M = [0.6, 1] as const;
const RESTITUTION = [0.25, 0.5] as const;
const RELEASE_RATE_RAD_S = [0, 10] as const;
const BOUNCE_RATES_RAD_S = [
  [5, 18],
  [2, 10],
] as const;
/** Strength of the three impacts as knocks: against hard ground, harder than a ball. */
const IMPACTS = [
  [0.8, 2],
  [0.4, 1],
  [0.2, 0.5],
] as const;

/**
 * Lets the implement go: free fall from the hand's height, two hops, it topples flat, lies and is picked up.
 * In flight the centre of mass feels nothing and the turn is steady (a body free of torque, its principal
 * moments taken as equal).
 * @param qHeld orientation in the hand, court from segment: let go from there and held so again
 */
export function planFall(
  random: Random,
  fromS: number,
  qHeld: Quaternion,
): { readonly fall: Fall; readonly knocks: readonly Knock[] } {
  const between = ([low, high]: readonly [number, number]) => random.uniform(low, high);
  const heightM = between(HEIGHT_M);
  const parts: FallPart[] = [];
  const knocks: Knock[] = [];
  let atS = fromS;
  let q = qHeld;
  const fly = (
    lastsS: number,
    rates: readonly [number, number],
    impact: readonly [number, number],
  ) => {
    const speed = between(rates);
    const rate = direction(random).map((x) => x * speed);
    const part = partOf(
      atS,
      lastsS,
      q,
      rate.map((x) => x * lastsS),
      rate,
      0,
    );
    parts.push(part);
    q = orientationIn(quaternion(), part, part.toS);
    atS = part.toS;
    knocks.push({ atS, strength: between(impact), isLoose: true });
  };
  const turnTo = (lastsS: number, to: Quaternion, liftM: number) => {
    const turn = multiply(quaternion(), conjugate(quaternion(), q), to);
    parts.push(partOf(atS, lastsS, q, toRotationVector(vector3(), turn), null, liftM));
    q = to;
    atS += lastsS;
  };
  fly(Math.sqrt((2 * heightM) / STANDARD_GRAVITY), RELEASE_RATE_RAD_S, IMPACTS[0]);
  let speedMS = Math.sqrt(2 * STANDARD_GRAVITY * heightM);
  for (const hop of [0, 1] as const) {
    speedMS *= between(RESTITUTION);
    fly((2 * speedMS) / STANDARD_GRAVITY, BOUNCE_RATES_RAD_S[hop], IMPACTS[hop === 0 ? 1 : 2]);
  }
  const flat = lyingFlat(q, random.uniform(0, 2 * Math.PI));
  turnTo(0.3, flat, 0);
  turnTo(random.uniform(0.5, 2), flat, 0);
  turnTo(random.uniform(0.7, 1.1), qHeld, heightM);
  return { fall: { fromS, toS: atS, parts }, knocks };
}

function partOf(
  fromS: number,
  lastsS: number,
  qFrom: Quaternion,
  turnRad: Vector3,
  flightRateRadS: Vector3 | null,
  liftM: number,
): FallPart {
  return { fromS, toS: fromS + lastsS, qFrom, flightRateRadS, turnRad, liftM };
}

/** The long axis level where it happens to point, rolled about it anyhow. */
function lyingFlat(q: Quaternion, rollRad: number): Quaternion {
  const along = rotate(vector3(), q, vector3(1));
  const turned = fromRotationVector(quaternion(), 0, 0, Math.atan2(along[1]!, along[0]!));
  return multiply(turned, turned, fromRotationVector(quaternion(), rollRad, 0, 0));
}

/** The fall that goes on at a time, or null. @param spans each with its fall, if it has one */
export function fallAt(
  spans: readonly { readonly fall: Fall | null }[],
  timeS: number,
): Fall | null {
  for (const { fall } of spans) {
    if (fall !== null && timeS >= fall.fromS && timeS <= fall.toS) return fall;
  }
  return null;
}

function partAt({ parts }: Fall, timeS: number): FallPart {
  return parts.find((part) => timeS < part.toS) ?? parts.at(-1)!;
}

/** Orientation of the loose implement, court from segment. @param timeS within the fall */
export function fallOrientation(out: Quaternion, fall: Fall, timeS: number): Quaternion {
  return orientationIn(out, partAt(fall, timeS), timeS);
}

const turned = quaternion();

function orientationIn(out: Quaternion, part: FallPart, timeS: number): Quaternion {
  const u = Math.min(1, (timeS - part.fromS) / (part.toS - part.fromS));
  const share = part.flightRateRadS === null ? u ** 3 * (10 - 15 * u + 6 * u * u) : u;
  const [x, y, z] = part.turnRad;
  return multiply(out, part.qFrom, fromRotationVector(turned, share * x!, share * y!, share * z!));
}

const q = quaternion();
const part1 = vector3();
const part2 = vector3();

/**
 * What a perfect sensor on the loose implement feels, segment frame, in closed form:
 *   f = R^T (a_centre + g) + alpha x r + omega x (omega x r)
 * Turns between rests follow the minimum-jerk polynomial (Flash & Hogan 1985).
 * @param out overwritten
 */
export function fallSignals(fall: Fall, timeS: number, out: IdealSignals): void {
  const part = partAt(fall, timeS);
  const { gyr, acc } = out;
  acc.fill(0);
  if (part.flightRateRadS !== null) {
    gyr.set(part.flightRateRadS);
  } else {
    const lastsS = part.toS - part.fromS;
    const u = Math.min(1, (timeS - part.fromS) / lastsS);
    const slope = (30 * u * u * (1 - u) ** 2) / lastsS;
    const bend = (60 * u * (1 - 3 * u + 2 * u * u)) / (lastsS * lastsS);
    for (let i = 0; i < 3; i++) gyr[i] = slope * part.turnRad[i]!;
    acc[2] = STANDARD_GRAVITY + bend * part.liftM;
    rotateInverse(acc, orientationIn(q, part, timeS), acc);
    for (let i = 0; i < 3; i++) part1[i] = bend * part.turnRad[i]!;
    addScaled(acc, acc, 1, cross(part2, part1, SENSOR_FROM_CENTRE_M));
  }
  cross(part1, gyr, SENSOR_FROM_CENTRE_M);
  addScaled(acc, acc, 1, cross(part2, gyr, part1));
}
