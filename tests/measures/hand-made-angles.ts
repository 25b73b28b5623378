import { vector3 } from '../../src/core/maths/vector.ts';
import type { ArmAngles } from '../../src/core/measures/arm-angles.ts';

type Column = readonly number[];

/** Angles of a set, radians, each the same column of n swings at all points; elbow and wrist follow. */
export function steadyAngles(upperArm: Column, forearm: Column, implement: Column): ArmAngles {
  const less = (a: Column, b: Column) => a.map((x, i) => x - b[i]!);
  const held = (column: Column) => Array.from({ length: 101 }, () => Float64Array.from(column));
  return {
    n: upperArm.length,
    plane: {
      normal: vector3(0, 0, 1),
      first: vector3(1, 0, 0),
      second: vector3(0, 1, 0),
      residualM: 0,
    },
    upperArm: held(upperArm),
    forearm: held(forearm),
    implement: held(implement),
    elbow: held(less(forearm, upperArm)),
    wrist: held(less(implement, forearm)),
  };
}
