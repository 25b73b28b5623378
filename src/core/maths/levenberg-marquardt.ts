/** Residuals of a model and how they change with its parameters. */
export interface LeastSquaresProblem {
  readonly residualCount: number;
  /**
   * @param parameters shape (n) @param residuals to fill, shape (m)
   * @param jacobian to fill with d residual / d parameter, row-major (m, n)
   */
  evaluate(parameters: Float64Array, residuals: Float64Array, jacobian: Float64Array): void;
}

/** Outcome of {@link fitLeastSquares}. */
export interface LeastSquaresFit {
  /** Shape (n). */
  readonly parameters: Float64Array;
  /** Shape (m), and the Jacobian there, row-major (m, n). */
  readonly residuals: Float64Array;
  readonly jacobian: Float64Array;
  readonly sumOfSquares: number;
  /**
   * (J'J)^-1, row-major (n, n); times the residual variance it is the covariance of the parameters.
   * null when the residuals do not determine every parameter: then `parameters` mean nothing.
   */
  readonly cofactor: Float64Array | null;
  readonly converged: boolean;
}

const MAX_ITERATIONS = 200;
/** Converged when the linear model promises to lower the sum of squares by no more than this fraction. */
const PROMISE = 1e-15;
const FIRST_DAMPING = 1e-3;
/** With so much damping a step is lost in rounding. */
const MAX_DAMPING = 1e15;
/** A pivot this small, in columns scaled to length 1, is rounding: the column depends on the others. */
const LEAST_PIVOT = 1e-13;

/**
 * Nonlinear least squares: min over p of |r(p)|^2, by damped Gauss-Newton steps
 *   (J'J + damping diag J'J) step = -J'r.
 * Deterministic; allocates its working arrays once per call.
 * @param start first guess, shape (n); kept as it is
 * @throws RangeError when there are fewer residuals than parameters or the first guess gives NaN
 * Source: Marquardt 1963, doi 10.1137/0111030; damping after Nielsen 1999, IMM-REP-1999-05.
 * Checked: tests/maths/levenberg-marquardt.test.ts against NIST StRD Misra1a and MGH10.
 */
export function fitLeastSquares(
  problem: LeastSquaresProblem,
  start: ArrayLike<number>,
): LeastSquaresFit {
  const n = start.length;
  const m = problem.residualCount;
  if (m < n) throw new RangeError(`fitLeastSquares: ${n} parameters need more than ${m} residuals`);
  let here = evaluateAt(problem, Float64Array.from(start));
  let trial = evaluateAt(problem, Float64Array.from(start));
  if (!Number.isFinite(here.sumOfSquares)) {
    throw new RangeError('fitLeastSquares: the first guess gives residuals that are no numbers');
  }
  const normal = new Float64Array(n * n);
  const damped = new Float64Array(n);
  const factor = new Float64Array(n * n);
  const step = new Float64Array(n);
  const gradient = new Float64Array(n);
  let damping = FIRST_DAMPING;
  let growth = 2;
  let converged = here.sumOfSquares === 0;
  fillNormalEquations(here, normal, gradient);
  for (let i = 0; i < MAX_ITERATIONS && !converged && damping < MAX_DAMPING; i++) {
    for (let k = 0; k < n; k++) damped[k] = damping * normal[k * n + k]!;
    if (!factorise(factor, normal, damped)) {
      damping *= growth;
      growth *= 2;
      continue;
    }
    solve(step, factor, normal, gradient);
    const promised = promisedDecrease(step, damped, gradient);
    converged = promised <= PROMISE * here.sumOfSquares;
    for (let k = 0; k < n; k++) trial.parameters[k] = here.parameters[k]! + step[k]!;
    reevaluate(problem, trial);
    const gain = (here.sumOfSquares - trial.sumOfSquares) / promised;
    if (gain > 0) {
      [here, trial] = [trial, here];
      fillNormalEquations(here, normal, gradient);
      damping *= Math.max(1 / 3, 1 - (2 * gain - 1) ** 3);
      growth = 2;
    } else {
      damping *= growth;
      growth *= 2;
    }
  }
  const cofactor = invertNormal(normal, n);
  return { ...here, cofactor, converged: converged || damping >= MAX_DAMPING };
}

interface Point {
  readonly parameters: Float64Array;
  readonly residuals: Float64Array;
  readonly jacobian: Float64Array;
  sumOfSquares: number;
}

function evaluateAt(problem: LeastSquaresProblem, parameters: Float64Array): Point {
  const residuals = new Float64Array(problem.residualCount);
  const jacobian = new Float64Array(problem.residualCount * parameters.length);
  const point = { parameters, residuals, jacobian, sumOfSquares: 0 };
  reevaluate(problem, point);
  return point;
}

function reevaluate(problem: LeastSquaresProblem, point: Point): void {
  problem.evaluate(point.parameters, point.residuals, point.jacobian);
  point.sumOfSquares = 0;
  for (const r of point.residuals) point.sumOfSquares += r * r;
}

/** J'J and -J'r. */
function fillNormalEquations(point: Point, normal: Float64Array, gradient: Float64Array): void {
  const n = gradient.length;
  normal.fill(0);
  gradient.fill(0);
  for (let row = 0; row < point.residuals.length; row++) {
    for (let i = 0; i < n; i++) {
      const ji = point.jacobian[row * n + i]!;
      gradient[i] = gradient[i]! - ji * point.residuals[row]!;
      for (let j = 0; j < n; j++) {
        normal[i * n + j] = normal[i * n + j]! + ji * point.jacobian[row * n + j]!;
      }
    }
  }
}

/** Decrease of the sum of squares in the linear model: step' (damping diag(J'J) step + gradient). */
function promisedDecrease(step: Float64Array, damped: Float64Array, gradient: Float64Array) {
  let sum = 0;
  for (let k = 0; k < step.length; k++) sum += step[k]! * (damped[k]! * step[k]! + gradient[k]!);
  return sum;
}

/**
 * Cholesky factor of the normal equations in columns scaled to length 1, `damped` added to their diagonal.
 * @returns false when the columns depend on each other
 */
function factorise(out: Float64Array, normal: Float64Array, damped: Float64Array): boolean {
  const n = damped.length;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      const lengths = Math.sqrt(normal[i * n + i]! * normal[j * n + j]!);
      let sum = i === j ? 1 + damped[i]! / lengths : normal[i * n + j]! / lengths;
      for (let k = 0; k < j; k++) sum -= out[i * n + k]! * out[j * n + k]!;
      if (i !== j) out[i * n + j] = sum / out[j * n + j]!;
      else if (sum > LEAST_PIVOT) out[i * n + i] = Math.sqrt(sum);
      else return false;
    }
  }
  return true;
}

/** Solves the unscaled normal equations with their scaled factor. */
function solve(
  out: Float64Array,
  factor: Float64Array,
  normal: Float64Array,
  rightSide: Float64Array,
): void {
  const n = rightSide.length;
  for (let i = 0; i < n; i++) {
    let sum = rightSide[i]! / Math.sqrt(normal[i * n + i]!);
    for (let k = 0; k < i; k++) sum -= factor[i * n + k]! * out[k]!;
    out[i] = sum / factor[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = out[i]!;
    for (let k = i + 1; k < n; k++) sum -= factor[k * n + i]! * out[k]!;
    out[i] = sum / factor[i * n + i]!;
  }
  for (let i = 0; i < n; i++) out[i] = out[i]! / Math.sqrt(normal[i * n + i]!);
}

function invertNormal(normal: Float64Array, n: number): Float64Array | null {
  const factor = new Float64Array(n * n);
  if (!factorise(factor, normal, new Float64Array(n))) return null;
  const inverse = new Float64Array(n * n);
  const unit = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    unit.fill(0);
    unit[i] = 1;
    // symmetric: a column is a row
    solve(inverse.subarray(i * n, (i + 1) * n), factor, normal, unit);
  }
  return inverse;
}
