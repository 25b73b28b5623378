import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addScaled,
  angleBetween,
  cross,
  dot,
  norm,
  normalise,
  vector3,
} from '../../src/core/maths/vector.ts';
import { expectClose } from './close.ts';

const numbers = fc.double({ min: -100, max: 100, noNaN: true });
const vectors = fc.tuple(numbers, numbers, numbers).map(([x, y, z]) => vector3(x, y, z));

describe('vector functions', () => {
  it('dot, norm, cross and addScaled give hand-computed whole numbers', () => {
    const a = vector3(1, 2, 2);
    const b = vector3(4, -3, 12);
    expect(dot(a, b)).toBe(22);
    expect(norm(a)).toBe(3);
    expect(norm(b)).toBe(13);
    expect([...cross(vector3(), a, b)]).toEqual([30, -4, -11]);
    expect([...addScaled(vector3(), a, -2, b)]).toEqual([-7, 8, -22]);
  });

  it('cross and addScaled may write into either argument', () => {
    const into = (which: 0 | 1) => {
      const pair = [vector3(1, 2, 2), vector3(4, -3, 12)] as const;
      return [...cross(pair[which], pair[0], pair[1])];
    };
    expect(into(0)).toEqual([30, -4, -11]);
    expect(into(1)).toEqual([30, -4, -11]);
    const b = vector3(4, -3, 12);
    expect([...addScaled(b, vector3(1, 2, 2), -2, b)]).toEqual([-7, 8, -22]);
  });

  it('cross is perpendicular to both factors', () => {
    fc.assert(
      fc.property(vectors, vectors, (a, b) => {
        const c = cross(vector3(), a, b);
        // products of three numbers up to 100: 1e6 times a few roundings
        const tolerance = 1e-9;
        expect(Math.abs(dot(c, a))).toBeLessThan(tolerance);
        expect(Math.abs(dot(c, b))).toBeLessThan(tolerance);
      }),
    );
  });

  it('normalise gives length 1 and refuses what has no direction', () => {
    expectClose(normalise(vector3(), vector3(4, -3, 12)), [4 / 13, -3 / 13, 12 / 13], 1e-16);
    expect(() => normalise(vector3(), vector3())).toThrow(RangeError);
    expect(() => normalise(vector3(), vector3(1e-13))).toThrow(RangeError);
    expect(() => normalise(vector3(), vector3(Number.NaN))).toThrow(RangeError);
  });
});

describe('angleBetween', () => {
  it('gives right, straight and 60-degree angles whatever the lengths', () => {
    expect(angleBetween(vector3(3), vector3(0, 0.1))).toBe(Math.PI / 2);
    expect(angleBetween(vector3(3), vector3(-7))).toBe(Math.PI);
    expect(angleBetween(vector3(1, 1, 0), vector3(0, 5, 5))).toBeCloseTo(Math.PI / 3, 15);
  });

  it('keeps all digits of a tiny angle, where an arc cosine keeps none', () => {
    expect(angleBetween(vector3(1), vector3(1, 1e-9))).toBeCloseTo(1e-9, 24);
  });
});
