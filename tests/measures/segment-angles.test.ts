import { describe, expect, test } from 'vitest';
import { vector3 } from '../../src/core/maths/vector.ts';
import { armAngles } from '../../src/core/measures/arm-angles.ts';
import { jointAngles, segmentAngles } from '../../src/core/measures/segment-angles.ts';
import type { SwingPlane } from '../../src/core/measures/swing-plane.ts';
import { answered } from '../statistics/answers.ts';
import { level, swingFromDirections } from './swing-from-directions.ts';

/** Travel along the court's x axis: in-plane angles are angles from the target's direction. */
const LEVEL_PLANE: SwingPlane = {
  normal: vector3(0, 0, 1),
  first: vector3(1, 0, 0),
  second: vector3(0, 1, 0),
  residualM: 0,
};
const RAD = Math.PI / 180;

/** A swing whose three segments turn from one angle to another, degrees, in the level plane. */
function turning(...turns: readonly [number, number][]) {
  return swingFromDirections((share) =>
    turns.map(([from, to]) => level((from + (to - from) * share) * RAD)),
  );
}

describe('segmentAngles', () => {
  test('follow a segment through more than a whole turn', () => {
    const swing = turning([-150, -90], [-300, -95], [-520, -100]);
    const { inPlaneRad } = segmentAngles(swing, LEVEL_PLANE);
    for (const point of [0, 33, 100])
      for (const [k, [from, to]] of [
        [-150, -90],
        [-300, -95],
        [-520, -100],
      ].entries())
        expect(inPlaneRad[3 * point + k]).toBeCloseTo(
          (from! + ((to! - from!) * point) / 100) * RAD,
        );
  });

  test('the same posture has the same numbers however often it was turned round before', () => {
    const once = segmentAngles(turning([-150, -90], [-200, -95], [-250, -100]), LEVEL_PLANE);
    const twice = segmentAngles(turning([210, 270], [-200, -95], [470, 620]), LEVEL_PLANE);
    for (let k = 0; k < 3; k++)
      expect(twice.inPlaneRad[300 + k]).toBeCloseTo(once.inPlaneRad[300 + k]!, 9);
  });

  test('out of the plane: half of a direction along the normal is 30 degrees', () => {
    const swing = swingFromDirections(() => [
      [Math.sqrt(0.75), 0, 0.5],
      [0, -1, 0],
      [0, -Math.SQRT1_2, -Math.SQRT1_2],
    ]);
    const { inPlaneRad, outOfPlaneRad } = segmentAngles(swing, LEVEL_PLANE);
    for (const [k, degrees] of [30, 0, -45].entries())
      expect(outOfPlaneRad[k]).toBeCloseTo(degrees * RAD, 12);
    for (const [k, degrees] of [0, -90, -90].entries())
      expect(inPlaneRad[k]).toBeCloseTo(degrees * RAD, 12);
  });
});

describe('jointAngles', () => {
  test('are blind to a turn of the whole arm', () => {
    const arm = (turn: number) => turning([turn, turn], [turn + 30, turn + 20], [turn, turn + 5]);
    const [here, there] = [-90, -60].map((turn) =>
      jointAngles(segmentAngles(arm(turn), LEVEL_PLANE)),
    ) as [ReturnType<typeof jointAngles>, ReturnType<typeof jointAngles>];
    for (let point = 0; point <= 100; point++) {
      expect(there.elbowRad[point]).toBeCloseTo(here.elbowRad[point]!, 9);
      expect(there.wristRad[point]).toBeCloseTo(here.wristRad[point]!, 9);
    }
    expect(here.elbowRad[0]).toBeCloseTo(30 * RAD, 9);
    expect(here.elbowRad[100]).toBeCloseTo(20 * RAD, 9);
    expect(here.wristRad[100]).toBeCloseTo(-15 * RAD, 9);
  });
});

describe('armAngles', () => {
  test('spread across swings is that of the postures, also about the cut of the upper arm', () => {
    // An upper arm that points against the usual at contact sits on the cut: deviations of 2 degrees both ways.
    const deviations = [-2, -1, 0, 1, 2];
    const angles = answered(
      armAngles(deviations.map((d) => turning([30 + d, 90 + d], [-200, -95], [-250, -100]))),
    );
    for (const column of [angles.upperArm[0]!, angles.upperArm[100]!])
      for (let i = 1; i < 5; i++) expect(column[i]! - column[i - 1]!).toBeCloseTo(RAD, 9);
    for (let i = 0; i < 5; i++)
      expect(angles.forearm[100]![i]! - angles.forearm[0]![i]!).toBeCloseTo(105 * RAD, 9);
    expect(angles.n).toBe(5);
  });

  test('a left-hander is the mirror image: the same angles', () => {
    const right = turning([-150, -90], [-200, -95], [-250, -100]);
    const left = swingFromDirections((share) =>
      [-150 + 60 * share, -200 + 105 * share, -250 + 150 * share].map((a) => level(-a * RAD)),
    );
    const [a, b] = [answered(armAngles([right])), answered(armAngles([left]))];
    for (const point of [0, 50, 100])
      for (const joint of ['elbow', 'wrist', 'implement'] as const)
        expect(b[joint][point]![0]).toBeCloseTo(a[joint][point]![0]!, 6);
  });

  test('an arm that does not move has no plane', () => {
    expect(armAngles([turning([0, 0], [10, 10], [20, 20])])).toEqual({ reason: 'no-direction' });
    expect(armAngles([])).toEqual({ reason: 'too-few', need: 1, have: 0 });
  });
});
