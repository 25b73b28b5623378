import AHRS from 'ahrs';
import { describe, expect, it } from 'vitest';
import { RAD_PER_DEG } from '../../src/core/maths/angles.ts';
import { rotate } from '../../src/core/maths/quaternion.ts';
import { angleBetween, type Vector3, vector3 } from '../../src/core/maths/vector.ts';
import {
  createFilter,
  type OrientationFilter,
  stepFilter,
} from '../../src/core/orientation/filter.ts';
import { expectClose } from '../maths/close.ts';

const UP = vector3(0, 0, 1);

/** Angle between measured specific force and the filter's up, rad. */
function tilt(filter: OrientationFilter, acc: Vector3): number {
  return angleBetween(rotate(vector3(), filter.state.qEarthFromSensor, acc), UP);
}

function hold(filter: OrientationFilter, acc: Vector3, samples: number): void {
  for (let i = 0; i < samples; i++) stepFilter(filter, vector3(), acc, 0.01, true);
}

describe('the ahrs package, raw', () => {
  it('answers NaN for an exactly level, resting sensor (when this fails, our guard can go)', () => {
    const raw = new AHRS({ sampleInterval: 10, algorithm: 'Madgwick' });
    raw.update(0, 0, 0, 0, 0, 1);
    expect(raw.getQuaternion().w).toBeNaN();
  });

  it('leaves out an accelerometer sample of which one component is exactly 0 (when this fails, it is mended)', () => {
    // Mahony.js asks for ax !== 0 && ay !== 0 && az !== 0 before it looks at the sample.
    const raw = new AHRS({ sampleInterval: 10, algorithm: 'Mahony', kp: 0.74, ki: 0.0012 });
    for (let i = 0; i < 500; i++) raw.update(0, 0, 0, 0.5, 0, 0.8);
    expect(raw.getQuaternion()).toEqual({ w: 1, x: 0, y: 0, z: 0 });
  });
});

/** Specific force 20 degrees from up, in a direction of the horizontal plane. */
const offBy20Degrees = (directionRad: number) => {
  const s = Math.sin(20 * RAD_PER_DEG);
  return vector3(
    s * Math.cos(directionRad),
    s * Math.sin(directionRad),
    Math.cos(20 * RAD_PER_DEG),
  );
};

describe.each(['madgwick', 'mahony'] as const)('%s behind our interface', (method) => {
  it('stays finite and level on an exactly level, resting sensor', () => {
    const filter = createFilter(method, 0.01);
    hold(filter, UP, 200);
    expectClose(filter.state.qEarthFromSensor, [1, 0, 0, 0], 1e-12);
  });

  it.each([
    ['tilted', vector3(1.2, -3.4, 9.1)],
    ['on its side', vector3(0, 9.81, 0)],
    ['upside down', vector3(0, 0, -9.81)],
  ])('finds up from the first sample when %s', (_, acc) => {
    const filter = createFilter(method, 0.01);
    hold(filter, acc, 1);
    // One step levels it to rounding; the gradient step that follows adds at most beta dt = 0.0012 rad.
    expect(tilt(filter, acc)).toBeLessThan(0.0025);
    hold(filter, acc, 300);
    expect(tilt(filter, acc)).toBeLessThan(0.0025);
  });

  it('converges to gravity from 20 degrees off', () => {
    const filter = createFilter(method, 0.01);
    hold(filter, UP, 1);
    // The sensor was set down anew unseen: no rate told of it.
    const acc = offBy20Degrees(0.6);
    hold(filter, acc, 1);
    expect(tilt(filter, acc)).toBeGreaterThan(18 * RAD_PER_DEG);
    // Madgwick turns by 2 beta = 0.24 rad/s at most; Mahony closes with 1/kp = 1.35 s: 10 s are ample.
    hold(filter, acc, 1000);
    expect(tilt(filter, acc)).toBeLessThan(0.5 * RAD_PER_DEG);
  });

  it('turns by the rate alone while the accelerometer is not to be used', () => {
    const filter = createFilter(method, 0.01);
    hold(filter, UP, 1);
    for (let i = 0; i < 100; i++) {
      stepFilter(filter, vector3(0, 0, 1), vector3(200, 100, 0), 0.01, false);
    }
    // 1 rad about z; first-order integration errs by (w dt)^2/12 = 8e-6 per radian
    expectClose(filter.state.qEarthFromSensor, [Math.cos(0.5), 0, 0, Math.sin(0.5)], 1e-4);
  });
});

// A fault once: the adapter passes on samples of which one component is exactly 0, and int16 samples often are;
// the package's Mahony then ignores the accelerometer.
it('mahony behind our interface converges to gravity also when one component is exactly 0', () => {
  const filter = createFilter('mahony', 0.01);
  hold(filter, UP, 1);
  const acc = offBy20Degrees(0);
  hold(filter, acc, 1000);
  expect(tilt(filter, acc)).toBeLessThan(0.5 * RAD_PER_DEG);
});
