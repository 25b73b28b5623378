import { describe, expect, it } from 'vitest';
import { DEG_PER_RAD } from '../../src/core/maths/angles.ts';
import { quaternionAngle, rotateInverse } from '../../src/core/maths/quaternion.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import { createFilter, type FilterMethod, stepFilter } from '../../src/core/orientation/filter.ts';
import { expectClose } from '../maths/close.ts';

const still = vector3();

describe('stepFilter', () => {
  it.each<[FilterMethod, number]>([
    // degrees; exact to rounding
    ['vqf', 1e-9],
    // the package normalises with a fast inverse root of its own; its first sample levels it
    ['madgwick', 0.01],
    ['mahony', 0.01],
  ])('%s finds the tilt of a resting sensor with its first sample', (method, tolerance) => {
    // reference.md E: a = (1.2, -3.4, 9.1), roll atan2(ay, az), pitch atan2(-ax, hypot(ay, az)).
    const q = stepFilter(createFilter(method, 0.01), still, vector3(1.2, -3.4, 9.1), 0.01, true);
    const up = rotateInverse(vector3(), q, vector3(0, 0, 1));
    const roll = Math.atan2(up[1]!, up[2]!) * DEG_PER_RAD;
    const pitch = Math.atan2(-up[0]!, Math.hypot(up[1]!, up[2]!)) * DEG_PER_RAD;
    expectClose([roll, pitch], [-20.4870141933, -7.0419411791], tolerance);
  });

  it('vqf carries an orientation by its gyroscope alone as scipy does', () => {
    // reference.md E, "Strapdown": (1, -2, .5) rad/s, 100 steps of 0.01 s.
    const filter = createFilter('vqf', 0.01);
    const gyr = vector3(1, -2, 0.5);
    let q = filter.state.qEarthFromSensor;
    for (let i = 0; i < 100; i++) q = stepFilter(filter, gyr, vector3(0, 0, 9.8), 0.01, false);
    const scipy = [0.412459622, 0.3975824707, -0.7951649413, 0.1987912353];
    expectClose(q, scipy, 6e-10); // ten printed digits
    expect(quaternionAngle(q, Float64Array.from(scipy))).toBeLessThan(2e-9);
  });
});
