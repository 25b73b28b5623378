import { describe, expect, it } from 'vitest';
import {
  type PendulumReadings,
  pendulumInertia,
  type Reading,
} from '../../src/core/kit/pendulum-inertia.ts';
import { STANDARD_GRAVITY } from '../../src/core/maths/angles.ts';
import { seededRandom } from '../../src/core/maths/random.ts';

const exactly = (value: number): Reading => ({ value, standardError: 0 });

/** Uniform rod hung from its end: T = 2 pi sqrt(2 L / (3 g)). */
function rod(lengthM: number, massKg: number): PendulumReadings {
  const periodS = 2 * Math.PI * Math.sqrt((2 * lengthM) / (3 * STANDARD_GRAVITY));
  return {
    massKg: exactly(massKg),
    balancePointM: exactly(lengthM / 2),
    pivotM: exactly(0),
    totalLengthM: lengthM,
    axisM: 0,
    period: { periodS, periodSE: 0 },
  };
}

function inertiaOf(readings: PendulumReadings) {
  const answer = pendulumInertia(readings);
  if (!answer.ok) throw new Error(answer.reason);
  return answer;
}

function reasonOf(readings: PendulumReadings): string {
  const answer = pendulumInertia(readings);
  return answer.ok ? 'an inertia' : answer.reason;
}

describe('pendulumInertia', () => {
  it('gives a uniform rod m L^2 / 3 about its end and m L^2 / 12 about its middle', () => {
    const { inertiaKgM2, aboutBalanceKgM2 } = inertiaOf(rod(0.68, 0.3));
    expect(inertiaKgM2).toBeCloseTo((0.3 * 0.68 ** 2) / 3, 12);
    expect(aboutBalanceKgM2).toBeCloseTo((0.3 * 0.68 ** 2) / 12, 12);
    const middle = inertiaOf({ ...rod(0.68, 0.3), axisM: 0.34 });
    expect(middle.inertiaKgM2).toBeCloseTo((0.3 * 0.68 ** 2) / 12, 12);
  });

  it('gives the same about one axis, wherever the rod was hung', () => {
    // Hung 10 cm from its end: I = m L^2 / 12 + m d^2, T = 2 pi sqrt(I / (m g d)), d = 0.24.
    const perMass = 0.68 ** 2 / 12 + 0.24 ** 2;
    const periodS = 2 * Math.PI * Math.sqrt(perMass / (STANDARD_GRAVITY * 0.24));
    const hung = { ...rod(0.68, 0.3), pivotM: exactly(0.1), period: { periodS, periodSE: 0 } };
    expect(inertiaOf(hung).inertiaKgM2).toBeCloseTo((0.3 * 0.68 ** 2) / 3, 12);
    // and turned round, head up: the pivot beyond the balance point
    const turned = { ...hung, pivotM: exactly(0.58) };
    expect(inertiaOf(turned).inertiaKgM2).toBeCloseTo((0.3 * 0.68 ** 2) / 3, 12);
  });

  it('finds the metre stick of the textbook', () => {
    // Halliday, Resnick & Walker, physical pendulum, sample problem (from memory): a metre stick about its end swings
    // in 1.64 s. To the rounding of that period (0.3 %), twice that in the inertia.
    const stick = { ...rod(1, 0.1), period: { periodS: 1.64, periodSE: 0 } };
    expect(inertiaOf(stick).inertiaKgM2 / (0.1 / 3)).toBeCloseTo(1, 2);
  });

  it('tells the error that repeated readings scatter by', () => {
    const truth = rod(0.68, 0.3);
    const said = { mass: 0.002, balance: 0.002, pivot: 0.001, period: 0.006 };
    const random = seededRandom(7);
    const noisy = (reading: Reading, standardError: number): Reading => ({
      value: reading.value + random.normal(standardError),
      standardError,
    });
    const readAgain = (): PendulumReadings => ({
      ...truth,
      axisM: 0.1,
      massKg: noisy(truth.massKg, said.mass),
      balancePointM: noisy(truth.balancePointM, said.balance),
      pivotM: { value: 0.02 + random.normal(said.pivot), standardError: said.pivot },
      period: { periodS: periodAt002 + random.normal(said.period), periodSE: said.period },
    });
    // pivot 2 cm from the end, d = 0.32
    const perMass = 0.68 ** 2 / 12 + 0.32 ** 2;
    const periodAt002 = 2 * Math.PI * Math.sqrt(perMass / (STANDARD_GRAVITY * 0.32));
    const answers = Array.from({ length: 4000 }, () => inertiaOf(readAgain()));
    const values = answers.map(({ inertiaKgM2 }) => inertiaKgM2);
    const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
    const sd = Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length);
    // about 10 cm: m (L^2 / 12 + 0.24^2)
    expect(mean / (0.3 * (0.68 ** 2 / 12 + 0.24 ** 2))).toBeCloseTo(1, 2);
    // gravity is not drawn here: its share is taken off. SD of 4000 is good to 1.1 %.
    const { standardError, shares } = answers[0]!;
    expect(sd / (standardError * Math.sqrt(1 - shares.gravity))).toBeGreaterThan(0.95);
    expect(sd / (standardError * Math.sqrt(1 - shares.gravity))).toBeLessThan(1.05);
    expect(Object.values(shares).reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
  });

  it('knows gravity no better than where on Earth nobody said', () => {
    // I / (m g d) fixed by T: 0.015 of 9.80665 on m g d T^2 alone, here the whole of m L^2 / 3.
    const { standardError, inertiaKgM2, shares } = inertiaOf(rod(0.68, 0.3));
    expect(standardError / inertiaKgM2).toBeCloseTo(0.015 / 9.80665, 6);
    expect(shares.gravity).toBe(1);
  });

  it('refuses what cannot be, and says what to look at', () => {
    const good = rod(0.68, 0.3);
    const at = (periodS: number) => ({ ...good, period: { periodS, periodSE: 0.005 } });
    expect(reasonOf({ ...good, pivotM: exactly(0.33) })).toContain('almost at the balance point');
    expect(reasonOf({ ...good, pivotM: exactly(-0.01) })).toContain('pivot lies beyond');
    expect(reasonOf({ ...good, balancePointM: exactly(0.7) })).toContain('balance point lies');
    expect(reasonOf({ ...good, axisM: 0.9 })).toContain('axis lies beyond');
    expect(reasonOf({ ...good, massKg: exactly(0) })).toContain('Weigh');
    expect(reasonOf({ ...good, totalLengthM: Number.NaN })).toContain('whole length');
    expect(reasonOf(at(Number.NaN))).toContain('Time the swings');
    // A point mass 34 cm below the peg: 1.170 s, the quickest there is. Half swings counted as whole ones.
    expect(reasonOf(at(1.35 / 2))).toContain('swung faster than anything');
    expect(reasonOf(at(1.168))).toContain('all its mass would sit');
    // Two halves of the mass at the two ends: sqrt(2) times that, 1.654 s. Every other swing missed.
    expect(reasonOf(at(2.7))).toContain('more slowly than anything');
    expect(reasonOf({ ...good, period: { periodS: 1.35, periodSE: 0.3 } })).toContain('uncertain');
  });
});
