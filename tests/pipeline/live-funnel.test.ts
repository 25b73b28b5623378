import { expect, test } from 'vitest';
import { summariseFunnel } from '../../src/core/measures/funnel.ts';
import { createLiveFunnel, updateLiveFunnel } from '../../src/core/pipeline/live-funnel.ts';

const curve = (reachM: number) => ({
  reachCurveM: new Float64Array(101).map((_, p) => reachM + p / 1000),
  reachCurveNoiseM: new Float64Array(101).fill(0.002),
});

// The whole-set funnel (two-pass) is the reference: it is checked by itself against NIST values.
test('swings come, are discarded, taken back and read otherwise: always the funnel of those that count', () => {
  const live = createLiveFunnel();
  const [a, b, c, d] = [curve(1), curve(1.1), curve(0.95), curve(1.4)];
  const steps = [
    [],
    [a!],
    [a!, b!],
    [a!, null, c!],
    [a!, b!, c!, d!],
    [null, b!, c!, curve(1.2)],
    [null, null, null, null],
    [a!, b!, null, null],
  ];
  for (const wanted of steps) {
    const found = updateLiveFunnel(live, wanted);
    const whole = summariseFunnel(wanted.filter((swing) => swing !== null));
    expect(found.n).toBe(whole.n);
    for (const name of ['spreadM', 'meanM', 'floorM'] as const) {
      for (const p of [0, 50, 100]) {
        if (Number.isNaN(whole[name][p]!)) expect(found[name][p]).toBeNaN();
        else expect(found[name][p]).toBeCloseTo(whole[name][p]!, 12);
      }
    }
  }
});
