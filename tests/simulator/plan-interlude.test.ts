import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/core/maths/random.ts';
import { norm, vector3 } from '../../src/core/maths/vector.ts';
import { lengthsOf, SENSOR_FROM_JOINT_M } from '../../src/core/simulator/kit.ts';
import { NO_ERRORS } from '../../src/core/simulator/sensor-errors.ts';
import type { InterludeName } from '../../src/core/simulator/session-types.ts';
import { simulateSession } from '../../src/core/simulator/simulate-session.ts';
import { planMovement } from '../../src/core/simulator/virtual-player.ts';
import { createVirtualSensor, idealSignals } from '../../src/core/simulator/virtual-sensor.ts';
import { sessionOptions } from './session-options.ts';

const HEAD = { setId: 'interludes', startedAtMs: 0, programVersion: 'test' };

function plan(name: InterludeName) {
  const options = sessionOptions({
    swings: 12,
    swingIntervalS: 4,
    interludes: [name],
    errors: NO_ERRORS,
  });
  const movement = planMovement(options, seededRandom(8));
  const sensor = createVirtualSensor(
    2,
    SENSOR_FROM_JOINT_M.implement,
    200,
    NO_ERRORS,
    seededRandom(9),
  );
  /** Fastest turning of the implement in each interlude, rad/s. */
  const fastest = movement.interludes.map(({ fromS, toS }) => {
    const out = { gyr: vector3(), acc: vector3() };
    let most = 0;
    for (let t = fromS; t < toS; t += 0.004) {
      idealSignals(sensor, movement, lengthsOf(options), t, 0, out);
      most = Math.max(most, norm(out.gyr));
    }
    return most;
  });
  return { movement, fastest };
}

describe('interludes of the virtual player', () => {
  it('come after every swing, one at a time, and leave time for the next', () => {
    const { movement } = plan('walk');
    expect(movement.interludes.length).toBe(12);
    movement.interludes.forEach(({ fromS, toS, knocks }, i) => {
      expect(fromS).toBeGreaterThan(movement.swings[i]!.contactS);
      expect(toS).toBeGreaterThan(fromS);
      // 1.07 s of backswing and forward swing before the next contact
      expect(toS).toBeLessThan((movement.swings[i + 1]?.contactS ?? Infinity) - 1.07);
      for (const { atS } of knocks) expect(atS >= fromS && atS <= toS).toBe(true);
    });
  });

  it('leave the swings of a seed as they are', () => {
    const options = sessionOptions({ swings: 5, swingIntervalS: 5 });
    const all = ['bounces', 'taps', 'practice-swing', 'walk', 'twirl', 'drop'] as const;
    const without = simulateSession(options, HEAD).truth;
    const { swings, interludes } = simulateSession({ ...options, interludes: all }, HEAD).truth;
    expect(without.interludes).toEqual([]);
    expect(interludes.length).toBe(5);
    swings.forEach((swing, i) => {
      // the same swing, later by the interludes before it: only the sway of the body differs, 12 mm of shoulder
      // that move no reach, and 0.15 degrees of each angle
      expect(Math.abs(swing.reachM - without.swings[i]!.reachM)).toBeLessThan(0.006);
      const laterUs = interludes
        .slice(0, i)
        .reduce((sum, { fromUs, toUs }) => sum + toUs - fromUs, 0);
      expect(swing.contactTimeUs - without.swings[i]!.contactTimeUs).toBeCloseTo(laterUs, 3);
    });
  });

  // What separates a swing from everything else by turning alone; the detector needs more for taps and twirls.
  it.each([
    ['bounces', 1, 5],
    ['taps', 2, 7],
    ['walk', 2, 5],
    ['practice-swing', 10, 22],
    ['twirl', 15, 40],
  ] as const)('turn the implement in %s at %d to %d rad/s', (name, least, most) => {
    for (const rate of plan(name).fastest) {
      expect(rate).toBeGreaterThan(least);
      expect(rate).toBeLessThan(most);
    }
  });

  it('knock where something is hit, and nowhere in a practice swing or a twirl', () => {
    const knocks = (name: InterludeName) =>
      plan(name).movement.interludes.map((i) => i.knocks.length);
    for (const count of knocks('bounces')) expect(count).toBeGreaterThanOrEqual(3);
    for (const count of knocks('taps')) expect(count).toBeGreaterThanOrEqual(2);
    for (const count of knocks('walk')) expect(count).toBeGreaterThanOrEqual(4);
    expect(knocks('drop').every((count) => count === 3)).toBe(true);
    expect(knocks('practice-swing').every((count) => count === 0)).toBe(true);
    expect(knocks('twirl').every((count) => count === 0)).toBe(true);
  });
});
