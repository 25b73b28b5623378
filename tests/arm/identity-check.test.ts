import { describe, expect, it } from 'vitest';
import {
  addIdentityEvidence,
  createIdentityCheck,
  FITS,
  fitOdds,
  fitProblem,
  likeliestFit,
} from '../../src/core/arm/identity-check.ts';
import { seededRandom } from '../../src/core/maths/random.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import { createReading } from '../../src/core/orientation/sensor-track.ts';
import { chainReadings, type TrueLevers } from './virtual-chain.ts';

const LEVERS: TrueLevers = {
  upperToElbow: vector3(0.1, 0, 0),
  foreToElbow: vector3(-0.14, 0, 0),
  foreToWrist: vector3(0.06, 0, 0),
  handToWrist: vector3(-0.13, 0, 0),
};
const DISTANCES = [0.1, -0.14, 0.06, -0.13] as const;

/** What is concluded when `order[name]` is the segment on which the sensor of that name really sits. */
function judged(order: readonly number[], axisSigns = [1, 1, 1], instants = 150) {
  const random = seededRandom(7);
  const check = createIdentityCheck();
  for (let n = 0; n < instants; n++) {
    const chain = chainReadings(random, LEVERS);
    const axes = axisSigns.map((sign) => vector3(sign, 0, 0));
    const readings = order.map((segment) => chain[segment]!);
    addIdentityEvidence(check, readings, axes, DISTANCES);
  }
  const fit = likeliestFit(check);
  return fit === null ? null : FITS[fit]!;
}

describe('likeliestFit', () => {
  it('finds nothing wrong with sensors at their places', () => {
    expect(judged([0, 1, 2])).toEqual({ places: [0, 1, 2], turned: null });
  });

  it.each([[[1, 0, 2]], [[0, 2, 1]], [[2, 1, 0]]])('knows the swap %j', (order) => {
    expect(judged(order)).toEqual({ places: order, turned: null });
  });

  it.each([
    // Sensor named 0 sits on segment 1, 1 on 2, 2 on 0: segment 0 carries sensor 2, 1 carries 0, 2 carries 1.
    [
      [1, 2, 0],
      [2, 0, 1],
    ],
    [
      [2, 0, 1],
      [1, 2, 0],
    ],
  ])('knows the round %j', (order, places) => {
    expect(judged(order)).toEqual({ places, turned: null });
  });

  it.each([0, 1, 2])('knows a sensor turned end for end (%i)', (k) => {
    const signs = [1, 1, 1];
    signs[k] = -1;
    expect(judged([0, 1, 2], signs)).toEqual({ places: [0, 1, 2], turned: k });
  });

  // All feel one force of some 60 m/s^2 and hardly turn, as when shaken in one hand: nothing tells one place from
  // another. Accelerometers of such parts may be 2 % off in scale (data sheets, from memory), which is no sign either.
  it.each([0, 1, 2])(
    'does not decide from a shake, though sensor %i reads 2 % too much',
    (high) => {
      const random = seededRandom(7);
      const check = createIdentityCheck();
      for (let n = 0; n < 150; n++) {
        const force = [0, 1, 2].map(() => random.normal(35));
        const readings = [0, 1, 2].map((k) => {
          const reading = createReading();
          reading.gyr.set([0, 1, 2].map(() => random.normal(1)));
          reading.acc.set(force.map((f) => (k === high ? 1.02 : 1) * f + random.normal(0.15)));
          return reading;
        });
        addIdentityEvidence(check, readings, [vector3(1), vector3(1), vector3(1)], DISTANCES);
      }
      expect(likeliestFit(check)).toBeNull();
      // Nor does it lean to any: what is believed takes log odds of 15.
      expect(Math.max(...fitOdds(check).map(Math.abs))).toBeLessThan(5);
    },
  );

  it('does not decide without motion, nor from an instant', () => {
    expect(likeliestFit(createIdentityCheck())).toBeNull();
    expect(judged([1, 0, 2], [1, 1, 1], 2)).toBeNull();
  });
});

describe('fitProblem', () => {
  it('names the sensors and what to do', () => {
    const words = (match: (fit: (typeof FITS)[number]) => boolean) =>
      fitProblem(FITS.findIndex(match));
    expect(words((f) => f.turned === null && f.places.join() === '0,1,2')).toBeNull();
    expect(words((f) => f.places.join() === '1,0,2')).toMatch(
      /upper arm and forearm sensors seem to be swapped\. .*both poses again/,
    );
    expect(words((f) => f.places.join() === '1,2,0')).toMatch(/All three sensors/);
    expect(words((f) => f.turned === 2)).toMatch(/implement sensor .* turned round/);
  });
});
