import { describe, expect, it } from 'vitest';
import { STANDARD_GRAVITY } from '../../src/core/maths/angles.ts';
import {
  fromRotationVector,
  multiply,
  quaternion,
  quaternionAngle,
  rotate,
} from '../../src/core/maths/quaternion.ts';
import { seededRandom } from '../../src/core/maths/random.ts';
import { norm, vector3 } from '../../src/core/maths/vector.ts';
import {
  type Fall,
  fallAt,
  fallOrientation,
  fallSignals,
  planFall,
} from '../../src/core/simulator/fall.ts';
import { expectClose } from '../maths/close.ts';

const FROM_S = 7;
const HELD = fromRotationVector(quaternion(), 0.4, -0.5, 0.3);
const FALLS = [1, 2, 3, 4].map((seed) => planFall(seededRandom(seed), FROM_S, HELD));
/** From the centre of mass to the sensor, as fall.ts says. */
const SENSOR_M = vector3(-0.15);

function signalsAt(fall: Fall, timeS: number) {
  const out = { gyr: vector3(), acc: vector3() };
  fallSignals(fall, timeS, out);
  return out;
}

describe('an implement that falls', () => {
  it('turns as its gyroscope says, from the hand to the ground and back into the hand', () => {
    for (const { fall } of FALLS) {
      const stepS = 2e-4;
      const q = Float64Array.from(HELD);
      for (const part of fall.parts) {
        // midpoint rule within each part: rates jump where it hits the ground
        const steps = Math.ceil((part.toS - part.fromS) / stepS);
        const h = (part.toS - part.fromS) / steps;
        for (let n = 0; n < steps; n++) {
          const { gyr } = signalsAt(fall, part.fromS + (n + 0.5) * h);
          const [x, y, z] = gyr.map((w) => w * h);
          multiply(q, q, fromRotationVector(quaternion(), x!, y!, z!));
        }
        const planned = fallOrientation(quaternion(), fall, part.toS - 1e-9);
        expect(quaternionAngle(q, planned)).toBeLessThan(1e-5);
      }
      expect(quaternionAngle(q, HELD)).toBeLessThan(1e-5);
    }
  });

  it('falls freely until it hits the ground: its centre of mass by half g t squared', () => {
    for (const { fall, knocks } of FALLS) {
      const endS = knocks[0]!.atS;
      const steps = 4000;
      const h = (endS - FROM_S) / steps;
      const q = quaternion();
      const velocity = vector3();
      const way = vector3();
      for (let n = 0; n < steps; n++) {
        const t = FROM_S + (n + 0.5) * h;
        const { acc } = signalsAt(fall, t);
        rotate(acc, fallOrientation(q, fall, t), acc);
        acc[2] = acc[2]! - STANDARD_GRAVITY;
        for (let i = 0; i < 3; i++) {
          way[i] = way[i]! + velocity[i]! * h + 0.5 * acc[i]! * h * h;
          velocity[i] = velocity[i]! + acc[i]! * h;
        }
      }
      // The centre of mass left the hand at rest, the sensor with the tumble about it: w x r.
      const { gyr } = signalsAt(fall, FROM_S);
      const first = rotate(vector3(), HELD, SENSOR_M);
      const last = rotate(vector3(), fallOrientation(q, fall, endS), SENSOR_M);
      const [wx, wy, wz] = rotate(vector3(), HELD, gyr);
      const start = [
        wy! * first[2]! - wz! * first[1]!,
        wz! * first[0]! - wx! * first[2]!,
        wx! * first[1]! - wy! * first[0]!,
      ];
      const duration = endS - FROM_S;
      const heightM = 0.5 * STANDARD_GRAVITY * duration ** 2;
      const centre = way.map((x, i) => x + start[i]! * duration - (last[i]! - first[i]!));
      expectClose(centre, [0, 0, -heightM], 1e-4);
      expect(heightM).toBeGreaterThanOrEqual(0.6 - 1e-9);
      expect(heightM).toBeLessThanOrEqual(1 + 1e-9);
    }
  });

  it('lies still and level on the ground, and is felt by nobody else', () => {
    for (const { fall, knocks } of FALLS) {
      const lying = fall.parts.at(-2)!;
      const middleS = (lying.fromS + lying.toS) / 2;
      const { gyr, acc } = signalsAt(fall, middleS);
      expect(norm(gyr)).toBeLessThan(1e-12);
      expect(norm(acc)).toBeCloseTo(STANDARD_GRAVITY, 9);
      const along = rotate(vector3(), fallOrientation(quaternion(), fall, middleS), vector3(1));
      expect(along[2]).toBeCloseTo(0, 9);
      expect(knocks.length).toBe(3);
      expect(knocks.every(({ isLoose, atS }) => isLoose && atS > FROM_S && atS < fall.toS)).toBe(
        true,
      );
    }
  });

  it('is found by its time', () => {
    const { fall } = FALLS[0]!;
    const spans = [{ fall: null }, { fall }];
    expect(fallAt(spans, FROM_S - 0.001)).toBeNull();
    expect(fallAt(spans, FROM_S + 0.1)).toBe(fall);
    expect(fallAt(spans, fall.toS + 0.001)).toBeNull();
  });
});
