import { expect, test } from 'vitest';
import { leversByTape } from '../../src/core/arm/chain-levers.ts';
import { vector3 } from '../../src/core/maths/vector.ts';

// Worked by hand: upper arm 0.28 m with its sensor 0.18 m down, forearm 0.24 m with its sensor 0.15 m down, implement
// 0.5 m with its sensor 0.12 m from the wrist; each long axis along another axis of its sensor, one of them backwards.
test('joints lie along the long axes, towards the shoulder against them', () => {
  const levers = leversByTape(
    [vector3(1, 0, 0), vector3(0, -1, 0), vector3(0, 0, 1)],
    { upperArm: 0.28, forearm: 0.24, implement: 0.5 },
    { upperArm: 0.18, forearm: 0.15, implement: 0.12 },
  );
  const expected = [
    [levers.toShoulderM, [-0.18, 0, 0]],
    [levers.elbow.aboveM, [0.1, 0, 0]],
    [levers.elbow.belowM, [0, 0.15, 0]],
    [levers.wrist.aboveM, [0, -0.09, 0]],
    [levers.wrist.belowM, [0, 0, -0.12]],
  ] as const;
  for (const [lever, metres] of expected) {
    for (let i = 0; i < 3; i++) expect(lever[i]).toBeCloseTo(metres[i]!, 15);
  }
});
