import { RAD_PER_DEG } from '../../src/core/maths/angles.ts';

/** Planar arm of reference.md C2: segment lengths and relative joint angles of ten trials. */
export const PLANAR_LENGTHS_M = [0.28, 0.25, 0.5] as const;

const TRIALS_DEG = [
  [40, 35, 20],
  [42.5, 33, 18.5],
  [38, 37.5, 22],
  [41, 36, 16],
  [39.5, 31.5, 24.5],
  [43, 34.5, 19],
  [37, 38, 17.5],
  [40.5, 32, 23],
  [41.5, 35.5, 20.5],
  [38.5, 36.5, 18],
];

/** Shoulder, elbow and wrist, radians, a column of ten trials each. */
export const PLANAR_JOINTS = [0, 1, 2].map((k) =>
  Float64Array.from(TRIALS_DEG, (trial) => trial[k]! * RAD_PER_DEG),
);

/** The same as angles of the segments in the plane. */
export const PLANAR_SEGMENTS = [0, 1, 2].map((k) =>
  Float64Array.from(TRIALS_DEG, (trial) =>
    trial.slice(0, k + 1).reduce((sum, angle) => sum + angle * RAD_PER_DEG, 0),
  ),
);

/** Distance from the shoulder to the tip, the elbow and wrist bent so far. */
export function planarReach(elbowRad: number, wristRad: number): number {
  const [a, b, c] = PLANAR_LENGTHS_M;
  return Math.hypot(
    a + b * Math.cos(elbowRad) + c * Math.cos(elbowRad + wristRad),
    b * Math.sin(elbowRad) + c * Math.sin(elbowRad + wristRad),
  );
}

/** Jacobians at the mean configuration, as printed in reference.md C2. */
export const PLANAR_JACOBIANS = {
  jointsToReach: [[0, -0.1627581628, -0.1653349291]],
  jointsToTip: [
    [-0.9202328221, -0.7396913689, -0.498097349],
    [0.2347258485, 0.02070532691, -0.04357787137],
  ],
  segmentsToReach: [[0.1627581628, 0.002576766365, -0.1653349291]],
} as const;
