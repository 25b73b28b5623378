import { RAD_PER_DEG } from '../maths/angles.ts';
import { solveSymmetric } from '../maths/solve-symmetric.ts';
import { SEGMENT_WORDS, SEGMENTS } from './segments.ts';
import { TILT_UNKNOWNS, TILTS, type TiltEvidence } from './tilt-evidence.ts';

/**
 * Whether a sensor has slipped in some swing since the poses: every swing estimates the tilt of each sensor,
 * tape and bias bend that estimate alike in all swings, a slip bends it from one swing on. Plain data.
 */
export interface SlipWatch {
  /** Tilts alone, headings eliminated: (6, 6) and (6) of each of the latest swings, oldest first. */
  readonly recent: TiltEquations[];
  /** The same of all earlier swings together. */
  readonly earlier: TiltEquations;
  /** What no tilt explains, mean square in units of its variance, one number a swing. */
  readonly unexplained: number[];
  /** The newest swing was set aside because a sensor seemed to move in it. */
  setAside: boolean;
  /** Swings since that last happened. */
  swingsSinceMoving: number;
}

/** Normal equations of the six tilts, shapes (6, 6) row-major and (6). */
interface TiltEquations {
  readonly normal: Float64Array;
  readonly gradient: Float64Array;
}

/** What was found. */
export interface SlipVerdict {
  /** A sensor moved on its segment during this swing: the arm as a rigid chain explains it far worse than usual. */
  readonly isDisturbed: boolean;
  /** The sensor that has slipped, or those it may have been, likeliest first (0 upper arm .. 2 implement); else none. */
  readonly sensors: readonly number[];
  /** So many of the latest swings are in doubt. */
  readonly swings: number;
}

/** How far tape and a hanging arm may be wrong from the start, SD per sensor and direction, rad. */
const TAPE_SD_RAD = 12 * RAD_PER_DEG;
/** How far a sensor slips, SD, rad. */
const SLIP_SD_RAD = 30 * RAD_PER_DEG;
/** How well headings are agreed while a swing is under way, SD, rad. */
const HEADING_SD_RAD = 6 * RAD_PER_DEG;
/** A slip is looked for at the beginning of each of so many latest swings. */
const LOOK_BACK = 12;
/**
 * Log likelihood ratio at which a slip is believed. Clean sets stay below 8; tilts vary from swing to swing by more
 * than each swing shows, and with a tape 2 cm wrong the ratio comes to 16.
 */
const DECISIVE = 20;
/** And once a sensor was seen moving in one of those swings: it may just have come back. */
const DECISIVE_AFTER_MOVING = 5;
/** Sensors this close to the likeliest, in log likelihood, are named as well. */
const CLOSE = 4;
/** Mean square left over that a set has at least, and before any swing was seen. */
const LEAST_UNEXPLAINED = 0.1;
const USUAL_UNEXPLAINED = 0.3;
/** The newest swings do not judge themselves. */
const UNJUDGED = 2;
/** A swing left over more than this multiple of the usual and this much besides is no usual one. */
const DISTURBED_FACTOR = 2.5;
const DISTURBED_BESIDES = 0.3;
/** A joint this much worse than the other is the only one concerned. */
const ONE_JOINT_FACTOR = 4;

/** No swing yet. */
export function createSlipWatch(): SlipWatch {
  return {
    recent: [],
    earlier: nothing(),
    unexplained: [],
    setAside: false,
    swingsSinceMoving: Number.POSITIVE_INFINITY,
  };
}

function nothing(): TiltEquations {
  return { normal: new Float64Array(TILTS * TILTS), gradient: new Float64Array(TILTS) };
}

/**
 * Takes in the evidence of one swing. One in which a sensor moves is set aside, for a moving sensor looks like
 * anything; two in a row are not.
 *   LLR(c, k) = max over b, s of log L(tilts b; from swing c on b + s of sensor k) - max over b of log L(b)
 * with priors on b and s, noise scaled by what is left over in the set's own earlier swings.
 * @returns whether a sensor moved in this swing, and which one has slipped since the poses if that is beyond doubt
 * Source: joint acceleration as constraint: Kok, Hol & Schon 2014, doi 10.3182/20140824-6-ZA-1003.02252 (from
 * memory); the test for a change at an unknown time: generalised likelihood ratio, Basseville & Nikiforov 1993,
 * section 2.4 (from memory).  Checked: tests/arm/slip-watch.test.ts, tests/pipeline/identity.test.ts
 */
export function watchSlip(watch: SlipWatch, evidence: TiltEvidence): SlipVerdict {
  const known = watch.unexplained.slice(0, -UNJUDGED);
  const noise = usualNoise(known);
  const left = leftOver(evidence);
  const isUnusual = left > DISTURBED_FACTOR * noise + DISTURBED_BESIDES;
  const isDisturbed = isUnusual && known.length > 0;
  watch.setAside = isDisturbed && !watch.setAside;
  watch.swingsSinceMoving = isDisturbed ? 0 : watch.swingsSinceMoving + 1;
  watch.recent.push(watch.setAside ? nothing() : withoutHeadings(evidence));
  if (!Number.isNaN(left)) watch.unexplained.push(left);
  while (watch.recent.length > LOOK_BACK) addTo(watch.earlier, watch.recent.shift()!);
  const constant = constantTilts(watch, noise);
  const changes = [0, 1, 2].map((sensor) => bestChange(watch, constant, sensor, noise));
  const ranked = [0, 1, 2].sort((a, b) => changes[b]!.ratio - changes[a]!.ratio);
  const best = changes[ranked[0]!]!;
  const hasMoved = watch.swingsSinceMoving < LOOK_BACK;
  if (best.ratio < (hasMoved ? DECISIVE_AFTER_MOVING : DECISIVE)) {
    // It may have moved as early as in the swing before, and have come back now.
    return { isDisturbed, sensors: [], swings: isDisturbed ? 2 : 0 };
  }
  return {
    isDisturbed,
    sensors: isUnusual
      ? worstJoints(evidence)
      : ranked.filter((sensor) => changes[sensor]!.ratio > best.ratio - CLOSE),
    // The one before the likeliest is in doubt too: a slip late in a swing hardly shows in it.
    swings: Math.min(best.swings + 1, watch.recent.length),
  };
}

/** What to tell the coach. */
export function slipProblem(sensors: readonly number[]): string {
  const words = sensors.map((k) => SEGMENT_WORDS[SEGMENTS[k]!]).join(' or the ');
  return `The ${words} sensor seems to have slipped, or to have hung askew. Fasten it and hold both poses again.`;
}

/** Median of what earlier swings left over. */
function usualNoise(unexplained: readonly number[]): number {
  if (unexplained.length === 0) return USUAL_UNEXPLAINED;
  const sorted = [...unexplained].sort((a, b) => a - b);
  const low = sorted[Math.floor((sorted.length - 1) / 2)]!;
  const high = sorted[Math.floor(sorted.length / 2)]!;
  return Math.max(LEAST_UNEXPLAINED, (low + high) / 2);
}

/** Eliminates both headings (they never occur in one equation) by their Schur complement. */
function withoutHeadings({ normal, gradient }: TiltEvidence): TiltEquations {
  const tilts = nothing();
  for (let i = 0; i < TILTS; i++) {
    tilts.gradient[i] = gradient[i]!;
    for (let j = 0; j < TILTS; j++) tilts.normal[TILTS * i + j] = normal[TILT_UNKNOWNS * i + j]!;
  }
  for (let h = TILTS; h < TILT_UNKNOWNS; h++) {
    const own = normal[(TILT_UNKNOWNS + 1) * h]! + 1 / HEADING_SD_RAD ** 2;
    for (let i = 0; i < TILTS; i++) {
      const share = normal[TILT_UNKNOWNS * i + h]! / own;
      tilts.gradient[i] = tilts.gradient[i]! - share * gradient[h]!;
      for (let j = 0; j < TILTS; j++) {
        const n = TILTS * i + j;
        tilts.normal[n] = tilts.normal[n]! - share * normal[TILT_UNKNOWNS * h + j]!;
      }
    }
  }
  return tilts;
}

/** No tilt explains what a sensor turned right round does; the joints that suffer still tell which one it is. */
function worstJoints({ squares, instants }: TiltEvidence): number[] {
  const [elbow, wrist] = [squares[0] / instants[0], squares[1] / instants[1]];
  if (elbow > ONE_JOINT_FACTOR * wrist) return [0];
  return wrist > ONE_JOINT_FACTOR * elbow ? [2] : [1];
}

/** Mean square per component that this swing's own tilts and headings do not explain. */
function leftOver({ normal, gradient, squares, instants }: TiltEvidence): number {
  const n = TILT_UNKNOWNS;
  const known = Float64Array.from(normal);
  for (let i = 0; i < n; i++) {
    known[(n + 1) * i] = known[(n + 1) * i]! + 1 / (i < TILTS ? TAPE_SD_RAD : HEADING_SD_RAD) ** 2;
  }
  const sum = squares[0] + squares[1] - explained(known, gradient);
  return sum / (3 * (instants[0] + instants[1])); // NaN when the arm was never fast
}

/** g' N^-1 g: what the best unknowns take off the sum of squares. */
function explained(normal: Float64Array, gradient: Float64Array): number {
  const solution = new Float64Array(gradient.length);
  if (!solveSymmetric(solution, normal, gradient)) return 0;
  return gradient.reduce((sum, g, i) => sum + g * solution[i]!, 0);
}

/** What all swings together say of six constant tilts: the likeliest, shape (6), and their covariance, shape (6, 6). */
interface ConstantTilts {
  readonly tilts: Float64Array;
  readonly covariance: Float64Array;
}

/** null: the swings say nothing that could be solved for, as with absurd forces. */
function constantTilts({ recent, earlier }: SlipWatch, noise: number): ConstantTilts | null {
  const whole = nothing();
  addTo(whole, earlier);
  for (const swing of recent) addTo(whole, swing);
  const normal = scaled(whole.normal, noise);
  for (let i = 0; i < TILTS; i++) {
    normal[(TILTS + 1) * i] = normal[(TILTS + 1) * i]! + 1 / TAPE_SD_RAD ** 2;
  }
  const covariance = new Float64Array(TILTS * TILTS);
  const tilts = new Float64Array(TILTS);
  for (let i = 0; i < TILTS; i++) {
    const column = covariance.subarray(TILTS * i, TILTS * (i + 1));
    column[i] = 1;
    if (!solveSymmetric(column, normal, column)) return null;
    for (let j = 0; j < TILTS; j++) tilts[i]! += (column[j]! * whole.gradient[j]!) / noise;
  }
  return { tilts, covariance };
}

/** The likeliest swing from which on one sensor has been tilted. */
function bestChange(
  { recent }: SlipWatch,
  constant: ConstantTilts | null,
  sensor: number,
  noise: number,
): { ratio: number; swings: number } {
  const after = nothing();
  let best = { ratio: 0, swings: 0 };
  if (constant === null) return best;
  for (let swings = 1; swings <= recent.length; swings++) {
    addTo(after, recent[recent.length - swings]!);
    const ratio = slipRatio(after, constant, sensor, noise);
    // of equals the earliest: swings set aside say nothing themselves
    if (ratio >= best.ratio) best = { ratio, swings };
  }
  return best;
}

/**
 * Log likelihood ratio of two more tilts of one sensor that only the swings `after` know: what the constant tilts leave
 * of their equations, r, in its own covariance, the Schur complement S, r' S^-1 r / 2.
 */
function slipRatio(
  { normal, gradient }: TiltEquations,
  { tilts, covariance }: ConstantTilts,
  sensor: number,
  noise: number,
): number {
  const at = 2 * sensor;
  const schur = (a: number, b: number) => {
    let shared = 0;
    for (let i = 0; i < TILTS; i++) {
      let sum = 0;
      for (let j = 0; j < TILTS; j++) sum += covariance[TILTS * i + j]! * normal[TILTS * j + b]!;
      shared += normal[TILTS * i + a]! * sum;
    }
    return normal[TILTS * a + b]! / noise - shared / noise ** 2;
  };
  const left = (a: number) => {
    let sum = gradient[a]!;
    for (let i = 0; i < TILTS; i++) sum -= normal[TILTS * i + a]! * tilts[i]!;
    return sum / noise;
  };
  const [x, y] = [left(at), left(at + 1)];
  const xx = schur(at, at) + 1 / SLIP_SD_RAD ** 2;
  const yy = schur(at + 1, at + 1) + 1 / SLIP_SD_RAD ** 2;
  const xy = schur(at, at + 1);
  return (x * x * yy - 2 * x * y * xy + y * y * xx) / (xx * yy - xy * xy) / 2;
}

function scaled(values: Float64Array, noise: number): Float64Array {
  return values.map((value) => value / noise);
}

function addTo(sum: TiltEquations, part: TiltEquations): void {
  for (let i = 0; i < sum.normal.length; i++) sum.normal[i] = sum.normal[i]! + part.normal[i]!;
  for (let i = 0; i < TILTS; i++) sum.gradient[i] = sum.gradient[i]! + part.gradient[i]!;
}
