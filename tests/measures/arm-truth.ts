import { anglesDeg, LENGTHS_M, OUT_OF_PLANE_DEG, type VirtualArm } from './virtual-arms.ts';

const RAD = Math.PI / 180;

/** What the measures of a virtual arm without timing errors estimate, from its definition instead of its swings. */

/** Covariance of the three in-plane angles at tau, rad^2, [segment][segment]. */
export function trueCovariance(arm: VirtualArm, tau: number): number[][] {
  const none = arm.latents.map(() => 0);
  const mean = anglesDeg(arm, tau, tau, none);
  const effects = none.map((_, j) =>
    anglesDeg(arm, tau, tau, none.with(j, 1)).map((angle, k) => (angle - mean[k]!) * RAD),
  );
  return [0, 1, 2].map((k) =>
    [0, 1, 2].map((l) => effects.reduce((sum, effect) => sum + effect[k]! * effect[l]!, 0)),
  );
}

/** Covariance of elbow and wrist. */
export function trueJointCovariance(arm: VirtualArm, tau: number): number[][] {
  const c = trueCovariance(arm, tau);
  const joint = [
    [-1, 1, 0],
    [0, -1, 1],
  ];
  return joint.map((a) =>
    joint.map((b) =>
      a.reduce((sum, x, k) => sum + b.reduce((part, y, l) => part + x * y * c[k]![l]!, 0), 0),
    ),
  );
}

/** Shares of the mean posture's first-order contributions, means over the whole of each bin. */
export function trueShares(arm: VirtualArm) {
  const bins = Array.from({ length: 10 }, (_, bin) => binContributions(arm, bin));
  const own = bins.map((c) =>
    [0, 1, 2].map((k) => c[k]![k]! / (c[0]![0]! + c[1]![1]! + c[2]![2]!)),
  );
  const whole = [0, 1, 2].map((k) =>
    [0, 1, 2].map((l) => bins.reduce((sum, c) => sum + c[k]![l]!, 0)),
  );
  const total = whole.flat().reduce((sum, x) => sum + x, 0);
  const jumps = [8, 9].flatMap((bin) =>
    [0, 1, 2].map((k) => Math.abs(own[bin]![k]! - own[bin - 1]![k]!)),
  );
  return {
    own,
    distal: 1 - whole[0]!.reduce((sum, x) => sum + x, 0) / total,
    handOver: Math.max(...jumps),
  };
}

/** Covariance of J_k theta_k over a bin, trapezoids of a hundredth of the bin. */
function binContributions(arm: VirtualArm, bin: number): number[][] {
  const sums = [0, 1, 2].map(() => [0, 0, 0]);
  for (let step = 0; step <= 100; step++) {
    const tau = (bin + step / 100) / 10;
    const gradient = reachSlopes(arm, tau);
    const covariance = trueCovariance(arm, tau);
    const weight = step === 0 || step === 100 ? 0.5 : 1;
    for (let k = 0; k < 3; k++)
      for (let l = 0; l < 3; l++)
        sums[k]![l]! += weight * gradient[k]! * gradient[l]! * covariance[k]![l]!;
  }
  return sums;
}

/** d reach/d in-plane angle at the mean posture, by differences. */
function reachSlopes(arm: VirtualArm, tau: number): number[] {
  const mean = anglesDeg(
    arm,
    tau,
    tau,
    arm.latents.map(() => 0),
  ).map((a) => a * RAD);
  return mean.map((angle, k) => {
    const step = 1e-6;
    return (reachOf(mean.with(k, angle + step)) - reachOf(mean.with(k, angle - step))) / (2 * step);
  });
}

function reachOf(angles: readonly number[]): number {
  const sum = (part: (angle: number, up: number) => number) =>
    angles.reduce((s, angle, k) => s + LENGTHS_M[k]! * part(angle, OUT_OF_PLANE_DEG[k]! * RAD), 0);
  return Math.hypot(
    sum((angle, up) => Math.cos(up) * Math.cos(angle)),
    sum((angle, up) => Math.cos(up) * Math.sin(angle)),
    sum((_, up) => Math.sin(up)),
  );
}

/** Mean excursion of the elbow in space when its angle runs from start to contact without turning back, degrees. */
export function trueElbowExcursionDeg(
  arm: VirtualArm,
  seeds: readonly (readonly number[])[],
): number {
  const inSpace = (tau: number, z: readonly number[]) => {
    const [upperArm, forearm] = anglesDeg(arm, tau, tau, z).map((a) => a * RAD) as [number, number];
    const [a, b] = [OUT_OF_PLANE_DEG[0] * RAD, OUT_OF_PLANE_DEG[1] * RAD];
    return Math.acos(
      Math.cos(a) * Math.cos(b) * Math.cos(forearm - upperArm) + Math.sin(a) * Math.sin(b),
    );
  };
  const ranges = seeds.map((z) => Math.abs(inSpace(1, z) - inSpace(0, z)));
  return ranges.reduce((sum, range) => sum + range, 0) / ranges.length / RAD;
}
