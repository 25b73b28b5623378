import {
  fitLeastSquares,
  type LeastSquaresFit,
  type LeastSquaresProblem,
} from '../maths/levenberg-marquardt.ts';

/** A fit to the items that agree with each other. */
export interface RobustFit<Item> {
  readonly fit: LeastSquaresFit;
  readonly kept: readonly Item[];
  /** Residual variance per independent residual, and how many of those are left over. */
  readonly variance: number;
  readonly freedom: number;
}

/** How many residuals an item brings, and how many of them are independent. */
export interface ItemShape {
  readonly rows: number;
  readonly independent: 1 | 2;
}

/** Median of the root mean square of one and of two normal numbers of SD 1: 0.6745 and sqrt(ln 2). */
const USUAL_SIZE = { 1: 0.6745, 2: Math.sqrt(Math.LN2) } as const;

/** An item this many robust standard deviations off contradicts the others. */
const MOST_DEVIATIONS = 5;
/** More than this part set aside, and it is no longer the exceptions that are set aside. */
const MOST_SET_ASIDE = 0.2;
/** With fewer independent residuals left over, large deviations are chance. */
const LEAST_FREEDOM = 8;

/**
 * Least squares that sets aside, one at a time, items contradicting all others.
 * @param problemOf residuals of the given items, `shape.rows` each, in order
 * @param start first guess
 * Source: residuals freed of their leverage, Cook & Weisberg 1982, "Residuals and Influence in Regression",
 * 2.2; against their median, Rousseeuw & Leroy 1987, "Robust Regression and Outlier Detection", 5.1: a bad
 * rest spoils the turns on both its sides, which would hide each other in a standard deviation.
 */
export function fitSettingAside<Item>(
  items: readonly Item[],
  shape: ItemShape,
  problemOf: (items: readonly Item[]) => LeastSquaresProblem,
  start: ArrayLike<number>,
): RobustFit<Item> {
  const fewest = Math.ceil((1 - MOST_SET_ASIDE) * items.length);
  let kept = items;
  for (;;) {
    const fit = fitLeastSquares(problemOf(kept), start);
    const freedom = kept.length * shape.independent - start.length;
    const variance = fit.sumOfSquares / freedom;
    const judge = fit.converged && freedom >= LEAST_FREEDOM;
    const worst = judge ? worstItem(fit, shape) : null;
    if (worst === null || worst.deviations < MOST_DEVIATIONS || kept.length === fewest) {
      return { fit, kept, variance, freedom };
    }
    kept = kept.filter((_, k) => k !== worst.index);
  }
}

interface WorstItem {
  readonly index: number;
  readonly deviations: number;
}

function worstItem(fit: LeastSquaresFit, shape: ItemShape): WorstItem | null {
  const { residuals, cofactor } = fit;
  if (cofactor === null) return null;
  const sizes = Float64Array.from({ length: residuals.length / shape.rows }, (_, k) => {
    let square = 0;
    let leverage = 0;
    for (let row = k * shape.rows; row < (k + 1) * shape.rows; row++) {
      square += residuals[row]! ** 2;
      leverage += leverageOf(fit, cofactor, row) / shape.independent;
    }
    return Math.sqrt(square / shape.independent / Math.max(1e-6, 1 - leverage));
  });
  const usual = sizes.toSorted()[sizes.length >> 1]! / USUAL_SIZE[shape.independent];
  const largest = Math.max(...sizes);
  return { index: sizes.indexOf(largest), deviations: usual > 0 ? largest / usual : 0 };
}

/** Diagonal element of the hat matrix J (J'J)^-1 J'. */
function leverageOf(fit: LeastSquaresFit, cofactor: Float64Array, row: number): number {
  const n = fit.parameters.length;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      sum += fit.jacobian[row * n + i]! * cofactor[i * n + j]! * fit.jacobian[row * n + j]!;
    }
  }
  return sum;
}
