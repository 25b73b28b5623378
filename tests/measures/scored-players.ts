import { RAD_PER_DEG } from '../../src/core/maths/angles.ts';
import { type Random, seededRandom } from '../../src/core/maths/random.ts';
import type { ArmAngles } from '../../src/core/measures/arm-angles.ts';
import type { MeasuredSwing } from '../../src/core/measures/measured-swing.ts';

/**
 * Virtual players at contact, for measures that ask how accurate and poor balls differ. All numbers are invented.
 * The arm is planar, so that the manifold is known in closed form.
 */
const LENGTHS_M = [0.28, 0.25, 0.5] as const;
/** Mean posture at contact, degrees: upper arm in the plane, elbow, wrist. */
const POSTURE_DEG = [-80, 35, 20] as const;
/** Turns of the whole arm, which leave reach alone. */
const WHOLE_ARM_SD_DEG = 6;

/** A ball: deviations of elbow and wrist along and across the manifold, and the coach's points. */
export interface Ball {
  readonly alongDeg: number;
  readonly acrossDeg: number;
  readonly points: number;
}

/** Direction along the manifold in the plane of elbow and wrist, and the one across; unit vectors. */
export const { along: ALONG, across: ACROSS } = manifoldDirections();

/** Metres of reach for each degree across the manifold, to first order. */
export const REACH_PER_DEGREE =
  reachOf([0, ACROSS[0] * 0.5, ACROSS[1] * 0.5]) - reachOf([0, -ACROSS[0] * 0.5, -ACROSS[1] * 0.5]);

/** Swings of a player and their angles; away from contact the arm stands still. */
export function ballsAsSwings(balls: readonly Ball[], seed: number) {
  const random = seededRandom(seed);
  const deviations = balls.map(({ alongDeg, acrossDeg }) => [
    random.normal(WHOLE_ARM_SD_DEG),
    alongDeg * ALONG[0] + acrossDeg * ACROSS[0],
    alongDeg * ALONG[1] + acrossDeg * ACROSS[1],
  ]);
  const still = directionsOf([0, 0, 0]);
  const template = new Float64Array(909);
  for (let point = 0; point <= 100; point++) template.set(still, 9 * point);
  const swings: MeasuredSwing[] = balls.map(({ points }, i) => {
    const directions = template.slice();
    directions.set(directionsOf(deviations[i]!), 900);
    const reachCurveM = new Float64Array(101);
    reachCurveM[100] = reachOf(deviations[i]!);
    return {
      reachCurveM,
      reachCurveNoiseM: new Float64Array(0),
      reachBeforeContactM: new Float64Array(0),
      directions,
      lengthsM: LENGTHS_M,
      courtHeadingKnown: true,
      durationS: 0.3,
      contactSpeedMS: 10,
      points,
      landingM: null,
    };
  });
  const column = (angle: (posture: readonly number[]) => number) => {
    const inRad = (off: readonly number[]) =>
      angle(POSTURE_DEG.map((mean, k) => mean + off[k]!)) * RAD_PER_DEG;
    const contact = Float64Array.from(deviations, inRad);
    const before = Float64Array.from(deviations, () => inRad([0, 0, 0]));
    return Array.from({ length: 101 }, (_, point) => (point === 100 ? contact : before));
  };
  const angles: ArmAngles = {
    n: balls.length,
    plane: {
      normal: Float64Array.of(0, 0, 1),
      first: Float64Array.of(1, 0, 0),
      second: Float64Array.of(0, 1, 0),
      residualM: 0,
    },
    upperArm: column(([arm]) => arm!),
    forearm: column(([arm, elbow]) => arm! + elbow!),
    implement: column(([arm, elbow, wrist]) => arm! + elbow! + wrist!),
    elbow: column(([, elbow]) => elbow!),
    wrist: column(([, , wrist]) => wrist!),
  };
  return { swings, angles };
}

export const FULL_POINTS = 10;
const BOX_M = 0.5;
const STEP_M = 0.25;

/** A target: full points in the box, one less for every step beyond it, none below zero. */
export function pointsFor(missM: number): number {
  const beyond = Math.max(0, Math.abs(missM) - BOX_M);
  return Math.max(0, FULL_POINTS - Math.ceil(beyond / STEP_M));
}

/** n balls of a player. */
export function ballsOf(n: number, seed: number, ball: (random: Random) => Ball): Ball[] {
  const random = seededRandom(seed);
  return Array.from({ length: n }, () => ball(random));
}

function anglesOf(deviationDeg: readonly number[]): number[] {
  const [arm, elbow, wrist] = POSTURE_DEG.map((mean, k) => (mean + deviationDeg[k]!) * RAD_PER_DEG);
  return [arm!, arm! + elbow!, arm! + elbow! + wrist!];
}

function directionsOf(deviationDeg: readonly number[]): number[] {
  return anglesOf(deviationDeg).flatMap((angle) => [Math.cos(angle), Math.sin(angle), 0]);
}

function reachOf(deviationDeg: readonly number[]): number {
  const angles = anglesOf(deviationDeg);
  const x = angles.reduce((sum, angle, k) => sum + LENGTHS_M[k]! * Math.cos(angle), 0);
  const y = angles.reduce((sum, angle, k) => sum + LENGTHS_M[k]! * Math.sin(angle), 0);
  return Math.hypot(x, y);
}

/** The gradient of reach by elbow and wrist, by central differences, is across. */
function manifoldDirections() {
  const byElbow = reachOf([0, 0.01, 0]) - reachOf([0, -0.01, 0]);
  const byWrist = reachOf([0, 0, 0.01]) - reachOf([0, 0, -0.01]);
  const length = Math.hypot(byElbow, byWrist);
  const across = [byElbow / length, byWrist / length] as const;
  return { along: [-across[1], across[0]] as const, across };
}
