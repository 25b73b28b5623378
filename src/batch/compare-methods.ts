import { multiply, type Quaternion, quaternion, rotate } from '../core/maths/quaternion.ts';
import { addScaled, norm, vector3 } from '../core/maths/vector.ts';
import { relativeKalmanMethod, wahbaMethod } from './full-rotation-methods.ts';
import type { ArmGeometry, JointInstant, JointTrial } from './joint-trial.ts';
import { type RelativeError, relativeError } from './relative-error.ts';
import { accelerationMethod, type RelativeMethod } from './relative-method.ts';
import {
  accelerationAndConstraintMethod,
  constraintMethod,
  fitTwoDofJoint,
  type TwoDofJoint,
} from './two-dof-method.ts';

/** Ways to keep two sensors beside a joint oriented to each other. */
export const METHODS: readonly {
  readonly name: string;
  readonly create: (joint: TwoDofJoint) => RelativeMethod;
}[] = [
  { name: 'a  joint acceleration, heading (production)', create: () => accelerationMethod() },
  { name: 'b1 2-DoF constraint alone, heading', create: constraintMethod },
  { name: 'b2 both, heading', create: accelerationAndConstraintMethod },
  { name: 'c1 joint acceleration, whole rotation, Wahba', create: wahbaMethod },
  { name: 'c2 joint acceleration, whole rotation, Kalman', create: relativeKalmanMethod },
];

/** What one method made of one trial. */
export interface MethodErrors {
  /** Errors of each joint at the instants that count. */
  readonly joints: readonly [MethodError[], MethodError[]];
  /** Reach error at the last instant of each swing that counts, metres. */
  readonly reachM: number[];
}

interface MethodError extends RelativeError {
  /** Whether the heading error is within 1.96 of the method's own SDs; null where it gives none. */
  readonly isWithin: boolean | null;
}

/** This long after its last instant a swing is over and its window closed, seconds. */
const SWING_OVER_S = 0.1;

/** The 2-DoF joints that fit the true movement best, elbow (or only joint) and wrist. */
export function fittedJoints(trial: JointTrial): TwoDofJoint[] {
  const turns: [Quaternion[], Quaternion[]] = [[], []];
  for (const { joint, qTrue, counts } of trial.instants()) {
    if (qTrue !== null && counts) turns[joint].push(qTrue);
  }
  return turns.filter((ofJoint) => ofJoint.length > 0).map(fitTwoDofJoint);
}

/**
 * Runs every method over a trial, each joint on its own.
 * @param fitted axes for the methods that need them
 * @returns one entry per method, in the order of {@link METHODS}
 */
export function compareMethods(trial: JointTrial, fitted: readonly TwoDofJoint[]): MethodErrors[] {
  const running = METHODS.map(({ create }) => ({
    methods: fitted.map(create),
    errors: { joints: [[], []], reachM: [] } as MethodErrors,
  }));
  let swing: Seen[] = [];
  const readSwing = () => {
    for (const [m, { methods, errors }] of running.entries()) {
      noteErrors(trial, swing, methods, (seen) => seen.estimates[m]!, errors);
    }
    swing = [];
  };
  for (const instant of trial.instants()) {
    const overS = instant.timeS - (swing.at(-1)?.instant.timeS ?? instant.timeS);
    if (trial.arm === null || overS > SWING_OVER_S) readSwing();
    const estimates = running.map(({ methods }) => methods[instant.joint]!.step(instant));
    const { qTrue } = instant;
    if (qTrue === null || !instant.counts) continue;
    swing.push(structuredClone({ instant, qTrue, estimates }));
  }
  readSwing();
  return running.map(({ errors }) => errors);
}

/** One instant that counts, kept until its swing is over. */
interface Seen {
  readonly instant: JointInstant;
  readonly qTrue: Quaternion;
  /** Of each method, at that instant. */
  readonly estimates: readonly Quaternion[];
}

function noteErrors(
  { arm }: JointTrial,
  swing: readonly Seen[],
  methods: readonly RelativeMethod[],
  thenOf: (seen: Seen) => Quaternion,
  errors: MethodErrors,
): void {
  const last = [quaternion(), quaternion()];
  const lastTrue = [quaternion(), quaternion()];
  for (const seen of swing) {
    const { instant, qTrue } = seen;
    const method = methods[instant.joint]!;
    const estimate = method.reread(instant, thenOf(seen));
    const error = relativeError(instant.above.qEarthFromSensor, estimate, qTrue);
    const sd = method.headingSdRad();
    const isWithin = Number.isNaN(sd) ? null : Math.abs(error.heading) <= 1.96 * sd;
    errors.joints[instant.joint].push({ ...error, isWithin });
    last[instant.joint] = estimate;
    lastTrue[instant.joint] = qTrue;
  }
  if (arm !== null && swing.length > 0) {
    errors.reachM.push(reachOf(arm, last) - reachOf(arm, lastTrue));
  }
}

/** Shoulder to sweet spot, metres: of the arm's orientations only those relative to each other matter. */
function reachOf({ longAxis, lengthsM }: ArmGeometry, relative: readonly Quaternion[]): number {
  const q = quaternion();
  const reach = vector3();
  for (let k = 0; k < 3; k++) {
    if (k > 0) multiply(q, q, relative[k - 1]!);
    addScaled(reach, reach, lengthsM[k]!, rotate(vector3(), q, longAxis[k]!));
  }
  return norm(reach);
}
