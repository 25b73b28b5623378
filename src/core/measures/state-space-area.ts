import { RAD_PER_DEG } from '../maths/angles.ts';
import { covarianceEllipse } from '../statistics/covariance-ellipse.ts';
import { ellipseAreaInterval } from '../statistics/ellipse-area-interval.ts';
import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { jackknifeInterval } from '../statistics/jackknife-interval.ts';
import { rarefiedCount } from '../statistics/rarefaction.ts';
import { type AngleColumns, type ArmAngles, TENTHS, varies } from './arm-angles.ts';
import { MEASURES } from './thresholds.ts';

/** How much room a plane of two angles is used, rad^2. */
export interface OccupiedArea {
  /** 95 % ellipse of the swings at 0, 10, .. 100 %; exact interval for normal angles. */
  readonly ellipseRad2: readonly (Estimate | Unavailable)[];
  /** Cells that swings pass through on their whole way, as four of them would on average. */
  readonly visitedRad2: Estimate | Unavailable;
}

/** Occupied state-space area, for segments in space and for joints. */
export interface StateSpaceArea {
  readonly n: number;
  readonly upperArmForearm: OccupiedArea;
  readonly elbowWrist: OccupiedArea;
}

const { limits: LIMITS } = MEASURES.stateSpaceArea;
const CELL_RAD = LIMITS.cellDeg * RAD_PER_DEG;
/** A cell's two numbers in one key. */
const KEY_STRIDE = 4096;

/**
 * Area of the plane of two angles that the swings take up: the ellipse says how much swings differ at one
 * instant, the visited area how much the movement covers in all. More swings visit more, so that area is
 * rarefied to four swings whatever n is, and sets of different size can be compared.
 * @param angles of at least ten swings
 * Source: design.md section 9; rarefiedCount, ellipseAreaInterval.
 * Checked: tests/measures/state-space-area.test.ts; ellipse: tests/statistics/ellipse-area-interval.test.ts
 */
export function stateSpaceArea(angles: ArmAngles): StateSpaceArea | Unavailable {
  const { n, upperArm, forearm, elbow, wrist } = angles;
  if (n < LIMITS.minimumN) return { reason: 'too-few', need: LIMITS.minimumN, have: n };
  return {
    n,
    upperArmForearm: occupied(upperArm, forearm),
    elbowWrist: occupied(elbow, wrist),
  };
}

function occupied(x: AngleColumns, y: AngleColumns): OccupiedArea {
  return {
    ellipseRad2: TENTHS.map((point) => {
      if (!varies(x[point]!) || !varies(y[point]!)) return { reason: 'no-spread' };
      const ellipse = covarianceEllipse(x[point]!, y[point]!);
      if (isUnavailable(ellipse)) return ellipse;
      if (!(ellipse.minorSd > Number.EPSILON * ellipse.majorSd)) return { reason: 'collinear' };
      return ellipseAreaInterval(ellipse, LIMITS.coverage);
    }),
    visitedRad2: visitedArea(x, y),
  };
}

function visitedArea(x: AngleColumns, y: AngleColumns): Estimate | Unavailable {
  const n = x[0]!.length;
  const cells = Array.from({ length: n }, (_, i) => cellsOf(x, y, i));
  const frequency = new Map<number, number>();
  for (const own of cells)
    for (const cell of own) frequency.set(cell, (frequency.get(cell) ?? 0) + 1);
  const number = new Map([...frequency.keys()].map((cell, i) => [cell, i]));
  const all = Int32Array.from(frequency.values());
  const numbered = cells.map((own) => Array.from(own, (cell) => number.get(cell)!));
  return jackknifeInterval(n, (rows) => {
    const counts = new Int32Array(all.length);
    for (const row of rows) for (const cell of numbered[row]!) counts[cell]!++;
    return rarefiedCount(counts, rows.length, LIMITS.rarefiedTo) * CELL_RAD ** 2;
  });
}

/** Keys of the cells one swing passes through. */
function cellsOf(x: AngleColumns, y: AngleColumns, swing: number): Set<number> {
  return new Set(
    x.map(
      (column, point) =>
        Math.floor(column[swing]! / CELL_RAD) * KEY_STRIDE +
        Math.floor(y[point]![swing]! / CELL_RAD),
    ),
  );
}
