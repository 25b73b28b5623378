import { expect, test } from 'vitest';
import { RAD_PER_DEG } from '../../src/core/maths/angles.ts';
import { classifyByScore, usualThresholds } from '../../src/core/measures/accuracy-classes.ts';
import { armAngles } from '../../src/core/measures/arm-angles.ts';
import {
  jointElements,
  manifoldThroughSwing,
} from '../../src/core/measures/manifold-through-swing.ts';
import {
  jointGradient,
  meanArm,
  reachOfJoints,
  segmentGradient,
} from '../../src/core/measures/reach-gradient.ts';
import { manifoldSpread } from '../../src/core/measures/uncontrolled-manifold.ts';
import { answered, expectNear } from '../statistics/answers.ts';
import { PLANAR_JACOBIANS, PLANAR_LENGTHS_M, PLANAR_SEGMENTS, planarReach } from './planar-arm.ts';
import { level, swingFromDirections } from './swing-from-directions.ts';
import { swingsOf } from './virtual-arms.ts';

const OPTIONS = { seed: 1, draws: 499 };
const NORMAL = Float64Array.of(0, 0, 1);

/** A swing of the planar arm that ends in these segment angles, coming from 60, 80 and 100 degrees before. */
const swingTo = (segments: readonly number[], points: number | null = null) =>
  swingFromDirections(
    (share) =>
      segments.map((angle, k) => level(angle - (1 - share) * [60, 80, 100][k]! * RAD_PER_DEG)),
    { lengthsM: PLANAR_LENGTHS_M, points },
  );

test('the gradient of reach is that of the planar arm', () => {
  const mean = [40.15, 75.1, 95].map((angle) => angle * RAD_PER_DEG);
  const arm = answered(meanArm([swingTo(mean)], NORMAL, 100));
  // reference.md C2, ten digits.
  for (const [k, expected] of PLANAR_JACOBIANS.segmentsToReach[0].entries())
    expectNear(segmentGradient(arm, mean)[k], expected, 2e-7);
  const joints = [mean[1]! - mean[0]!, mean[2]! - mean[1]!] as const;
  expectNear(jointGradient(arm, joints)[0], -0.1627581628, 2e-9);
  expectNear(jointGradient(arm, joints)[1], -0.1653349291, 2e-9);
  expectNear(reachOfJoints(arm, ...joints), 0.9496971469, 1e-9);
  expectNear(reachOfJoints(arm, 0.3, 0.9), planarReach(0.3, 0.9), 1e-12);
});

test('ten swings of the planar arm give the manifold of its joint angles', () => {
  const swings = Array.from({ length: 10 }, (_, i) =>
    swingTo(PLANAR_SEGMENTS.map((column) => column[i]!)),
  );
  const arm = answered(meanArm(swings, NORMAL, 100));
  const found = manifoldSpread(jointElements(answered(armAngles(swings)), arm, 100));
  // Row C of reference.md C2; the mean directions lie a little nearer together than the segments are long.
  expectNear(answered(found.vUcm).value, 0.00284181217392, 1e-3);
  expectNear(answered(found.deltaVz).value, 0.6439060366, 1e-3);
});

/** Tilted plane, segments out of it; wrist makes up for the elbow at contact. */
const steadied = swingsOf(
  {
    startDeg: [-170, -150, -200],
    contactDeg: [-80, -45, -25],
    latents: [
      { steady: [5, 5, 5] },
      { steady: [0, 6, -1] },
      { steady: [0, 1, 1] },
      { early: [3, 6, 8] },
    ],
  },
  30,
  3,
).map((swing, i) => ({ ...swing, points: i % 2 === 0 ? 10 : 0 }));

test('a wrist that makes up for the elbow is found', () => {
  const classes = answered(classifyByScore(steadied, usualThresholds(10)));
  const found = answered(manifoldThroughSwing(steadied, armAngles(steadied), classes, OPTIONS));
  expect(found.at.map(({ percent }) => percent)).toEqual([
    0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100,
  ]);
  const contact = found.at.at(-1)!;
  expect(answered(answered(contact.joints.all).deltaVz).low).toBeGreaterThan(0);
  expect(answered(contact.explained)).toBeGreaterThan(0.8);
  expect(answered(found.covariation).p).toBeLessThan(0.01);
  expect(found.verdict.answer).toBe('steadied');
  // Turns of the whole arm lie along the manifold of the segments.
  expect(answered(answered(contact.segments.all).vUcm).value).toBeGreaterThan(
    answered(answered(contact.segments.all).vOrt).value,
  );
  expect(answered(contact.joints.byClass.accurate).n).toBe(15);
  expect(contact.joints.byClass.fair).toEqual({ reason: 'too-few', need: 10, have: 0 });
});

test('small, still and broken sets say why', () => {
  const few = steadied.slice(0, 14);
  const classes = answered(classifyByScore(few, usualThresholds(10)));
  expect(manifoldThroughSwing(few, armAngles(few), classes, OPTIONS)).toEqual({
    reason: 'too-few',
    need: 15,
    have: 14,
  });
  for (const n of [0, 1, 2])
    expect(
      manifoldThroughSwing(
        few.slice(0, n),
        armAngles(few.slice(0, n)),
        answered(classifyByScore([], usualThresholds(10))),
        OPTIONS,
      ),
    ).toEqual({ reason: 'too-few', need: 15, have: n });
  const still = Array.from({ length: 15 }, () => steadied[0]!);
  const found = answered(
    manifoldThroughSwing(
      still,
      armAngles(still),
      answered(classifyByScore(still, usualThresholds(10))),
      OPTIONS,
    ),
  );
  expect(found.verdict.answer).toBe('unknown');
  expect(found.verdict.words).toContain('all swings are alike');
});
