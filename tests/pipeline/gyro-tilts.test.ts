import { describe, expect, it } from 'vitest';
import { ARM_ROW, appendInstant, GRID_STEP_US, slotOf } from '../../src/core/arm/arm-timeline.ts';
import { addGyroTilt, createGyroTilt } from '../../src/core/arm/gyro-tilt.ts';
import { fromRotationVector, multiply, quaternion } from '../../src/core/maths/quaternion.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import { createArmState } from '../../src/core/pipeline/arm-state.ts';
import { followGyroTilts, turnsFast } from '../../src/core/pipeline/gyro-tilts.ts';

const STEP_S = GRID_STEP_US * 1e-6;
const LENGTHS = { upperArm: 0.25, forearm: 0.22, implement: 0.4 };

/** An arm whose implement has just turned on by one instant at a rate, rad/s, its own frame; the others rest. */
function arm() {
  const state = createArmState({ lengthsM: LENGTHS, sensorFromJointM: LENGTHS });
  state.timeline.nextUs = 0;
  const q = [quaternion(), quaternion(), quaternion()];
  const turnOn = (x: number, y: number, z: number) => {
    const turn = fromRotationVector(quaternion(), x * STEP_S, y * STEP_S, z * STEP_S);
    multiply(q[2]!, q[2]!, turn);
    const rate = vector3(x, y, z);
    appendInstant(state.timeline, q, [vector3(), vector3(), rate], rate, 0);
  };
  return { state, turnOn };
}

describe('gyroscope tilts on the timeline', () => {
  it('have to be followed at every instant once one sensor turns fast', () => {
    const { state, turnOn } = arm();
    turnOn(1, 0, -1);
    expect(turnsFast(state)).toBe(false);
    turnOn(2, 0, -1);
    expect(turnsFast(state)).toBe(true);
  });

  // The same tilt by every single instant, as src/core/arm/gyro-tilt.ts has it.
  it('come to the same through rest, swing and follow-through, with rare looks while slow', () => {
    const { state, turnOn } = arm();
    const each = createGyroTilt();
    let looks = 0;
    for (let n = 0; n < 400; n++) {
      const speed = 16 * Math.exp(-(((n - 200) / 40) ** 2));
      turnOn(speed * Math.cos(0.05 * n), speed * Math.sin(0.05 * n), 0.3 * speed);
      const at = (instant: number) => ARM_ROW * slotOf(instant) + 8;
      if (n > 0) addGyroTilt(each, state.timeline.q, at(n - 1), at(n));
      if (n % 4 === 3 || turnsFast(state)) {
        followGyroTilts(state);
        looks++;
      }
    }
    followGyroTilts(state);
    expect(looks).toBeLessThan(250);
    const size = Math.max(...each.map(Math.abs));
    expect(size).toBeGreaterThan(0.5);
    for (const [i, part] of each.entries()) {
      expect(Math.abs(state.gyroTilts[2][i]! - part)).toBeLessThan(0.01 * size);
    }
    for (const part of state.gyroTilts[0]) expect(part).toBe(0);
  });

  it('stay where they are until there is a new instant', () => {
    const { state, turnOn } = arm();
    for (let n = 0; n < 5; n++) turnOn(1, 0, 0);
    followGyroTilts(state);
    const before = Array.from(state.gyroTilts[2]);
    followGyroTilts(state);
    expect(Array.from(state.gyroTilts[2])).toEqual(before);
  });
});
