import { describe, expect, it } from 'vitest';
import { countDistinct, missingFace } from '../../src/core/calibration/sphere-coverage.ts';
import { vector3 } from '../../src/core/maths/vector.ts';

const FACES = [
  vector3(1, 0, 0),
  vector3(0, 1, 0),
  vector3(0, 0, 1),
  vector3(-1, 0, 0),
  vector3(0, -1, 0),
  vector3(0, 0, -1),
];

describe('countDistinct', () => {
  it('counts directions more than 15 deg apart, whatever their length', () => {
    // tan 10 deg = 0.176, tan 20 deg = 0.364
    expect(countDistinct([vector3(1, 0, 0), vector3(9, 1.58, 0), vector3(1, 0.364, 0)])).toBe(2);
    expect(countDistinct(FACES)).toBe(6);
    expect(countDistinct([])).toBe(0);
  });
});

describe('missingFace', () => {
  it('names the face opposite the only one used', () => {
    expect(missingFace([vector3(0, 0, 9.8)])).toBe('-z');
  });

  it('names the face left out', () => {
    const corners = [-1, 1].flatMap((x) => [-1, 1].map((y) => vector3(x, y, -1)));
    expect(missingFace([...FACES.filter((_, k) => k !== 2), ...corners])).toBe('+z');
  });

  it('names a corner when all faces were used', () => {
    expect(missingFace(FACES)).toMatch(/^[+-]x and [+-]y and [+-]z$/);
  });
});
