import { describe, expect, it } from 'vitest';
import type { Random } from '../../src/core/maths/random.ts';
import { seededRandom } from '../../src/core/maths/random.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import {
  ARM_CHANNELS,
  pointOnSegment,
  reachOf,
  reachVector,
} from '../../src/core/simulator/arm-kinematics.ts';
import {
  addKeyframe,
  createTrack,
  evaluateTrack,
} from '../../src/core/simulator/keyframe-track.ts';
import { lengthsOf } from '../../src/core/simulator/kit.ts';
import { movementAt, planMovement } from '../../src/core/simulator/virtual-player.ts';
import { expectClose } from '../maths/close.ts';
import { sessionOptions } from './session-options.ts';

/** A player without any variation. */
const steady: Random = { uniform: (low) => low, normal: () => 0 };

describe('planMovement', () => {
  it.each(['distal', 'frozen'] as const)(
    'makes a left-hander the mirror image of a right-hander (%s, no variation)',
    (strategy) => {
      const plan = (handedness: 'left' | 'right') =>
        planMovement(sessionOptions({ strategy, handedness }), steady);
      const [left, right] = [plan('left'), plan('right')];
      const lengths = lengthsOf(sessionOptions());
      const a = new Float64Array(ARM_CHANNELS);
      const b = new Float64Array(ARM_CHANNELS);
      for (let t = 0; t < right.endS; t += 0.037) {
        // the track alone: sway and tremor are not mirrored, and need not be
        evaluateTrack(left.track, t, a);
        evaluateTrack(right.track, t, b);
        const [x, y, z] = reachVector(vector3(), b, lengths);
        expectClose(reachVector(vector3(), a, lengths), [x!, -y!, z!], 1e-12);
        for (let k = 0; k < 3; k++) {
          const offset = vector3(0.1, 0.02, -0.03);
          const [px, py, pz] = pointOnSegment(vector3(), b, lengths, k, offset);
          const mirrored = vector3(0.1, -0.02, -0.03);
          expectClose(pointOnSegment(vector3(), a, lengths, k, mirrored), [px!, -py!, pz!], 1e-12);
        }
      }
      expect(reachOf(left.idealContact, lengths)).toBeCloseTo(
        reachOf(right.idealContact, lengths),
        14,
      );
    },
  );

  it('meets the ball at the ideal contact when nothing varies', () => {
    const movement = planMovement(sessionOptions(), steady);
    const lengths = lengthsOf(sessionOptions());
    for (const { contactS } of movement.swings) {
      const at = evaluateTrack(movement.track, contactS, new Float64Array(ARM_CHANNELS));
      expect(reachOf(at, lengths)).toBeCloseTo(reachOf(movement.idealContact, lengths), 12);
    }
  });

  it('keeps contacts at least four seconds apart and around the interval asked for', () => {
    const { swings } = planMovement(
      sessionOptions({ swings: 400, swingIntervalS: 6 }),
      seededRandom(3),
    );
    const gaps = swings.slice(1).map((s, i) => s.contactS - swings[i]!.contactS);
    expect(Math.min(...gaps)).toBeGreaterThanOrEqual(4);
    // SD 0.6 s: SE of the mean 0.03 s, four of those
    const mean = gaps.reduce((x, y) => x + y, 0) / gaps.length;
    expect(Math.abs(mean - 6)).toBeLessThan(0.12);
  });

  it('moves without jumps in position and velocity', () => {
    const movement = planMovement(sessionOptions({ swings: 3 }), seededRandom(4));
    const dt = 1e-4;
    let roughest = 0;
    const at = (t: number) => movementAt(movement, t, new Float64Array(ARM_CHANNELS));
    let before = at(11);
    let now = at(11 + dt);
    for (let t = 11 + 2 * dt; t < 13; t += dt) {
      const next = at(t);
      for (let i = 0; i < ARM_CHANNELS; i++) {
        roughest = Math.max(roughest, Math.abs(next[i]! - 2 * now[i]! + before[i]!));
      }
      before = now;
      now = next;
    }
    // accelerations of a channel stay below 2000 rad/s^2: second difference below 2000 dt^2 = 2e-5
    expect(roughest).toBeLessThan(2e-5);
  });
});

describe('keyframe track', () => {
  it('moves between rests by the minimum-jerk polynomial', () => {
    // Flash & Hogan 1985: 10 u^3 - 15 u^4 + 6 u^5; at half time exactly half way.
    const track = createTrack(1);
    addKeyframe(track, 1, [2]);
    addKeyframe(track, 3, [6]);
    const value = (t: number) => evaluateTrack(track, t, new Float64Array(1))[0]!;
    expect(value(2)).toBeCloseTo(4, 14);
    const u = 0.3;
    expect(value(1 + 2 * u)).toBeCloseTo(2 + 4 * (10 * u ** 3 - 15 * u ** 4 + 6 * u ** 5), 13);
    expect([value(0), value(1), value(3), value(9)]).toEqual([2, 2, 6, 6]);
  });

  it('passes a keyframe with the velocity given', () => {
    const track = createTrack(1);
    addKeyframe(track, 0, [0]);
    addKeyframe(track, 1, [1], [3]);
    addKeyframe(track, 2, [0]);
    const value = (t: number) => evaluateTrack(track, t, new Float64Array(1))[0]!;
    const h = 1e-5;
    // one-sided slopes on both sides, third derivative below 200: h^2 x 200
    expect((value(1) - value(1 - h)) / h).toBeCloseTo(3, 6);
    expect((value(1 + h) - value(1)) / h).toBeCloseTo(3, 6);
  });

  it('refuses keyframes out of order or of the wrong shape', () => {
    const track = createTrack(2);
    addKeyframe(track, 1, [0, 0]);
    expect(() => addKeyframe(track, 1, [0, 0])).toThrow(RangeError);
    expect(() => addKeyframe(track, Number.NaN, [0, 0])).toThrow(RangeError);
    expect(() => addKeyframe(track, 2, [0])).toThrow(RangeError);
  });
});
