import type { Random } from '../maths/random.ts';
import { addScaled, type Vector3, vector3 } from '../maths/vector.ts';

/** Ideal inertial signals, sensor frame. */
export interface IdealSignals {
  /** rad/s, shape (3) */
  readonly gyr: Vector3;
  /** Specific force, m/s^2, shape (3) */
  readonly acc: Vector3;
}

/** A sudden force on the implement: contact with the ball, a ball bounced on the strings, a tap, the ground. */
export interface Knock {
  readonly atS: number;
  /** 1 for a full contact. */
  readonly strength: number;
  /** The implement lies loose: the arm feels nothing. */
  readonly isLoose: boolean;
}

/**
 * Peak acceleration (m/s^2) of a full contact per segment, and the decay of its ringing (s). A struck frame
 * rings in several modes with their own directions; two are enough here (Hz). Invented numbers.
 */
const RINGING = [
  { peakMS2: 30, decayS: 0.015, modesHz: [40, 67] },
  { peakMS2: 90, decayS: 0.012, modesHz: [60, 97] },
  { peakMS2: 320, decayS: 0.009, modesHz: [110, 173] },
] as const;
const IMPLEMENT = 2;
const SPURIOUS_TURN_S = 0.02;

/** How one sensor feels one knock: a direction per mode and the turn it leaves, rotation vector, rad. */
export interface KnockFeel {
  readonly axes: readonly [Vector3, Vector3];
  readonly spuriousTurnRad: Vector3;
}

/** Adds one knock to ideal signals. */
export function addKnock(
  out: IdealSignals,
  knock: Knock,
  segment: number,
  timeS: number,
  feel: KnockFeel,
): void {
  if (knock.isLoose && segment !== IMPLEMENT) return;
  const since = timeS - knock.atS;
  if (since < 0 || since > 0.12) return;
  const { peakMS2, decayS, modesHz } = RINGING[segment]!;
  const envelope = knock.strength * peakMS2 * Math.exp(-since / decayS) * Math.SQRT1_2;
  for (const mode of [0, 1] as const) {
    const a = envelope * Math.cos(2 * Math.PI * modesHz[mode] * since);
    addScaled(out.acc, out.acc, a, feel.axes[mode]);
  }
  if (since < SPURIOUS_TURN_S) {
    // half sine whose integral is the spurious turn
    const rate = (Math.PI / (2 * SPURIOUS_TURN_S)) * Math.sin((Math.PI * since) / SPURIOUS_TURN_S);
    addScaled(out.gyr, out.gyr, rate * knock.strength, feel.spuriousTurnRad);
  }
}

/** A random direction, shape (3). */
export function direction(random: Random): Vector3 {
  const v = vector3(random.normal(1), random.normal(1), random.normal(1));
  const length = Math.hypot(v[0]!, v[1]!, v[2]!);
  return v.map((x) => x / length);
}
