import { describe, expect, it } from 'vitest';
import type { HeadingStep } from '../../src/core/arm/heading-agreement.ts';
import {
  correctHeading,
  type HeadingBelief,
  predictHeading,
  unknownHeading,
} from '../../src/core/arm/heading-belief.ts';
import { smoothHeadings } from '../../src/core/arm/heading-smoother.ts';
import { seededRandom } from '../../src/core/maths/random.ts';
import { isUnavailable } from '../../src/core/statistics/estimate.ts';
import { leastSquares } from '../../src/core/statistics/least-squares.ts';

const RAD = Math.PI / 180;

/** Runs the forward filter over steps; what it knew after each. */
function forward(start: HeadingBelief, steps: readonly HeadingStep[]): HeadingBelief[] {
  const belief = start;
  return steps.map((step) => {
    if (step.kind === 'passed')
      predictHeading(belief, step.stepS, step.walkVariance, step.noiseWalkVariance);
    if (step.kind === 'measured')
      correctHeading(belief, step.deltaRad, step.variance, step.noiseVariance);
    return { ...belief, noise: { ...belief.noise } };
  });
}

function measured(deltaRad: number, sdRad: number, noiseSdRad = sdRad): HeadingStep {
  return { kind: 'measured', deltaRad, variance: sdRad ** 2, noiseVariance: noiseSdRad ** 2 };
}

function passed(stepS: number, walkSdRad = 0): HeadingStep {
  const walkVariance = walkSdRad ** 2;
  return { kind: 'passed', stepS, walkVariance, noiseWalkVariance: walkVariance };
}

/** What is known at one moment with what came later. */
function smoothAt(history: readonly HeadingStep[], known: HeadingBelief, steps: number) {
  return smoothHeadings(history, [{ known, steps }])[0]!;
}

describe('smoothHeadings', () => {
  it('is the most probable turn given everything, as whitened least squares over all states finds it', () => {
    const steps = [
      measured(0.31, 2 * RAD),
      passed(1.5, 0.7 * RAD),
      measured(0.36, 1 * RAD),
      passed(0.8, 0.4 * RAD),
      measured(0.33, 1.5 * RAD),
      passed(2.5, 0.6 * RAD),
      measured(0.42, 1 * RAD),
    ];
    const first = { ...unknownHeading(0.2 * RAD), deltaRad: 0.3 };
    const known = forward(first, steps)[2]!; // at the second of four times
    const smoothed = smoothAt(steps, { ...known, noise: { ...known.noise } }, 3);

    const rows: { row: number[]; value: number }[] = [];
    const add = (entries: readonly (readonly [number, number])[], value: number, sd: number) => {
      const row = new Array<number>(8).fill(0);
      for (const [column, weight] of entries) row[column] = weight / sd;
      rows.push({ row, value: value / sd });
    };
    add([[0, 1]], 0.3, Math.PI);
    add([[1, 1]], 0, 0.2 * RAD);
    for (const [k, value, sd] of [
      [0, 0.31, 2],
      [1, 0.36, 1],
      [2, 0.33, 1.5],
      [3, 0.42, 1],
    ] as const) {
      add([[2 * k, 1]], value, sd * RAD);
    }
    for (const [k, t, walk] of [
      [0, 1.5, 0.7],
      [1, 0.8, 0.4],
      [2, 2.5, 0.6],
    ] as const) {
      // turn' = turn + t drift + e, drift' = drift + f; cov(e, f) of an integrated random walk of the drift
      // (0.01 deg/s per root second) and a walk of the turn; whitened by Cholesky's factor.
      const q = (0.01 * RAD) ** 2;
      const fSd = Math.sqrt(q * t);
      const slope = t / 2; // cov(e, f) / var(f)
      const eSd = Math.sqrt((walk * RAD) ** 2 + (q * t ** 3) / 3 - slope ** 2 * q * t);
      const [a, b, c, d] = [2 * k, 2 * k + 1, 2 * k + 2, 2 * k + 3];
      add(
        [
          [d, 1],
          [b, -1],
        ],
        0,
        fSd,
      );
      add(
        [
          [c, 1],
          [a, -1],
          [b, slope - t],
          [d, -slope],
        ],
        0,
        eSd,
      );
    }
    // the backward run starts from any turn and 1 deg/s
    add([[6, 1]], known.deltaRad, Math.PI);
    add([[7, 1]], 0, 1 * RAD);
    const columns = Array.from({ length: 8 }, (_, j) => rows.map(({ row }) => row[j]!));
    const fit = leastSquares(
      columns,
      rows.map(({ value }) => value),
    );
    if (isUnavailable(fit)) throw new Error(fit.reason);
    // exact but for rounding and the clamp of an unknown turn at 180 degrees
    expect(smoothed.deltaRad).toBeCloseTo(fit.coefficients[2]!, 4);
    expect(smoothed.driftRadS).toBeCloseTo(fit.coefficients[3]!, 5);
    const sd = (j: number) => fit.standardErrors[j]! / fit.residualSd;
    expect(Math.sqrt(smoothed.pDelta) / sd(2)).toBeCloseTo(1, 3);
    expect(Math.sqrt(smoothed.pDrift) / sd(3)).toBeCloseTo(1, 2);
  });

  it('tells its error from swing to swing: spread over 300 experiments with a shared error', () => {
    // Every measurement carries noise of 1 deg of its own; weighed as 1.5 deg because of what all share.
    const random = seededRandom(7);
    const errors: number[] = [];
    let told = 0;
    for (let trial = 0; trial < 300; trial++) {
      const steps = Array.from({ length: 24 }, (_, i) =>
        i % 2 === 0 ? passed(1, 0) : measured(random.normal(RAD), 1.5 * RAD, RAD),
      );
      const known = forward(unknownHeading(0.001 * RAD), steps)[11]!;
      const smoothed = smoothAt(steps, known, 12);
      errors.push(smoothed.deltaRad);
      told = Math.sqrt(smoothed.noise.pDelta);
    }
    const sd = Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0) / errors.length);
    // SD of an SD from 300: 4 %; the filter allows for a walking drift that is not there: up to 15 % more
    expect(told / sd).toBeGreaterThan(0.9);
    expect(told / sd).toBeLessThan(1.25);
  });

  it('takes the shorter way around', () => {
    const steps = [measured(Math.PI - 0.05, RAD), passed(1), measured(-Math.PI + 0.05, RAD)];
    const known = forward(unknownHeading(0.1 * RAD), steps);
    const { deltaRad } = smoothAt(steps, known[0]!, 1);
    expect(Math.abs(Math.abs(deltaRad) - Math.PI)).toBeLessThan(0.02);
  });

  it('does not look beyond a new beginning', () => {
    const steps = [
      measured(0.3, RAD),
      passed(1),
      { kind: 'began-anew' } as const,
      measured(2, RAD),
    ];
    const known = forward(unknownHeading(0.1 * RAD), steps);
    expect(smoothAt(steps, known[0]!, 1)).toEqual(known[0]);
  });

  it('is the same for many moments at once as for each alone', () => {
    const steps: HeadingStep[] = [
      measured(0.3, RAD),
      passed(6, RAD),
      measured(0.33, 2 * RAD),
      { kind: 'began-anew' },
      measured(-1, RAD),
      passed(6, RAD),
      measured(-1.1, RAD),
    ];
    const known = forward(unknownHeading(0.1 * RAD), steps);
    const moments = [1, 3, 3, 5, 7].map((at) => ({ known: known[at - 1]!, steps: at }));
    expect(smoothHeadings(steps, moments)).toEqual(
      moments.map((moment) => smoothAt(steps, moment.known, moment.steps)),
    );
  });

  it('is the forward filter run to the end when asked for the end', () => {
    const steps = [passed(1, RAD), measured(0.3, RAD), passed(2, RAD), measured(0.32, RAD)];
    const known = forward(unknownHeading(0.1 * RAD), steps);
    expect(smoothAt(steps, known[3]!, steps.length)).toEqual(known[3]);
  });
});
