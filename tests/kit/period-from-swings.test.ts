import { describe, expect, it } from 'vitest';
import { periodFromSwings } from '../../src/core/kit/period-from-swings.ts';
import { RAD_PER_DEG, STANDARD_GRAVITY } from '../../src/core/maths/angles.ts';
import {
  SWINGING_RACKET,
  type SwingingImplement,
  simulateSwings,
} from '../../src/core/simulator/swinging-implement.ts';

const { massKg, balanceM, inertiaKgM2 } = SWINGING_RACKET;
/** Closed form for swings that vanish. */
const TRUE_S = 2 * Math.PI * Math.sqrt(inertiaKgM2 / (massKg * STANDARD_GRAVITY * balanceM));

function felt(change: Partial<SwingingImplement>) {
  const { timeS, gyro } = simulateSwings({ ...SWINGING_RACKET, ...change });
  return periodFromSwings(timeS, gyro);
}

function periodOf(change: Partial<SwingingImplement>) {
  const answer = felt(change);
  if (!answer.ok) throw new Error(answer.reason);
  return answer;
}

describe('periodFromSwings', () => {
  it.each([1, 2, 3, 4, 5])('times a fading swing within its own error, seed %i', (seed) => {
    const { periodS, periodSE, swings } = periodOf({ seed });
    expect(swings).toBeGreaterThan(25);
    // one swing of 1.27 s to a tenth of a millisecond; four standard errors never in five seeds
    expect(periodSE).toBeLessThan(1e-4);
    expect(Math.abs(periodS - TRUE_S)).toBeLessThan(4 * periodSE + 2e-5);
  });

  it('takes the amplitude off: wide swings give the period of small ones', () => {
    // Uncorrected, 20 degrees would be 0.77 % or 10 ms too long.
    const { periodS, amplitudeRad } = periodOf({ amplitudeRad: 20 * RAD_PER_DEG });
    expect(amplitudeRad[0]).toBeGreaterThan(18 * RAD_PER_DEG);
    expect(Math.abs(periodS - TRUE_S)).toBeLessThan(2e-4);
  });

  it('does not mind how the sensor sits, its rate or its bias', () => {
    for (const mounting of [
      [0, 0, 0],
      [1.5, 0.2, -2],
    ] as const) {
      for (const rateHz of [100, 400]) {
        expect(periodOf({ mounting, rateHz }).periodS).toBeCloseTo(TRUE_S, 3);
      }
    }
  });

  it('waits for enough swings, and for straight ones', () => {
    const few = felt({ lastsS: 8 });
    expect(few).toMatchObject({ ok: false });
    expect(few.ok ? '' : few.reason).toContain('6 are needed');
    const swaying = felt({ sway: 0.4 });
    expect(swaying.ok ? '' : swaying.reason).toContain('sways or twists');
    const nothing = felt({ amplitudeRad: 0 });
    expect(nothing).toMatchObject({ ok: false, swings: 0 });
    expect(periodFromSwings(new Float64Array(0), EMPTY)).toMatchObject({ ok: false, swings: 0 });
  });

  it('does not mind the hands that hung it up', () => {
    const { timeS, gyro } = simulateSwings({ ...SWINGING_RACKET, stillS: 6 });
    // in the first 4 s it is turned about another axis, ten times as fast as it will swing
    const handled = gyro.x.map((x, i) => (timeS[i]! < 4 ? 6 * Math.sin(5 * timeS[i]!) : x));
    const answer = periodFromSwings(timeS, { ...gyro, x: handled });
    expect(answer.ok && Math.abs(answer.periodS - TRUE_S)).toBeLessThan(2e-4);
  });

  it('leaves out what is too wide or too small', () => {
    expect(felt({ amplitudeRad: 60 * RAD_PER_DEG, lastsS: 20, frictionNms: 0 })).toMatchObject({
      ok: false,
      swings: 0,
    });
    expect(felt({ amplitudeRad: 0.5 * RAD_PER_DEG })).toMatchObject({ ok: false, swings: 0 });
  });
});

const EMPTY = { x: new Float64Array(0), y: new Float64Array(0), z: new Float64Array(0) };
