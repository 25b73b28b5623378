import { RAD_PER_DEG } from '../maths/angles.ts';
import { quaternion } from '../maths/quaternion.ts';
import type { Random } from '../maths/random.ts';
import { segmentOrientation } from './arm-kinematics.ts';
import { type Fall, planFall } from './fall.ts';
import { addKeyframe, type KeyframeTrack } from './keyframe-track.ts';
import type { Knock } from './knock.ts';
import { planSwing, READY_AFTER_S } from './plan-swing.ts';
import { READY, radians } from './player-poses.ts';
import type { InterludeName, SessionOptions } from './session-types.ts';

/** What the player does between two swings. Seconds of true time. */
export interface PlannedInterlude {
  readonly name: InterludeName;
  readonly fromS: number;
  /** Ready again. */
  readonly toS: number;
  readonly knocks: readonly Knock[];
  /** The implement out of the hand; null when it never is. */
  readonly fall: Fall | null;
}

/** What planning one interlude works on: appends to the movement, counts the time on. */
interface Draft {
  readonly track: KeyframeTrack;
  readonly options: SessionOptions;
  readonly random: Random;
  readonly ready: readonly number[];
  readonly knocks: Knock[];
  fall: Fall | null;
  atS: number;
}

// Channels of the movement.
const FOREARM_DIP = 4;
const IMPLEMENT_DIP = 7;
const IMPLEMENT_TWIST = 8;
const SHOULDER_UP = 11;
/** Forward and back of upper arm, forearm and implement in a stride: amplitude, degrees. */
const STRIDE = [
  [1, 12],
  [4, 18],
  [7, 25],
] as const;

/**
 * Plans one of the interludes asked for. Amplitudes, times and speeds are what one sees on a court; common
 * practice, no source.
 * @param fromS the player stands ready
 * @returns null when none is asked for
 */
export function planInterlude(
  track: KeyframeTrack,
  options: SessionOptions,
  random: Random,
  fromS: number,
): PlannedInterlude | null {
  const names = options.interludes ?? [];
  const name = names[Math.floor(random.uniform(0, names.length))];
  if (name === undefined) return null;
  const ready = radians(READY, options.handedness === 'left');
  const draft: Draft = { track, options, random, ready, knocks: [], fall: null, atS: fromS };
  PLANS[name](draft);
  return { name, fromS, toS: draft.atS, knocks: draft.knocks, fall: draft.fall };
}

const PLANS: Readonly<Record<InterludeName, (draft: Draft) => void>> = {
  bounces: planBounces,
  taps: planTaps,
  'practice-swing': planPracticeSwing,
  walk: planWalk,
  twirl: planTwirl,
  drop: planDrop,
};

/** A keyframe some time later: ready but for some channels. @param changes channel, offset from ready, velocity */
function later(
  draft: Draft,
  afterS: number,
  ...changes: readonly (readonly [channel: number, offset: number, velocity?: number])[]
): void {
  draft.atS += afterS;
  const values = [...draft.ready];
  const velocities = values.map(() => 0);
  for (const [channel, offset, velocity = 0] of changes) {
    values[channel] = values[channel]! + offset;
    velocities[channel] = velocity;
  }
  addKeyframe(draft.track, draft.atS, values, velocities);
}

function knock({ knocks, random, atS }: Draft, least: number, most: number): void {
  knocks.push({ atS, strength: random.uniform(least, most), isLoose: false });
}

/** The ball bounced up and down on the level strings, each time with a small flick upwards. */
function planBounces(draft: Draft): void {
  const { random } = draft;
  const level = 30 * RAD_PER_DEG;
  for (let n = Math.floor(random.uniform(3, 7)); n > 0; n--) {
    const flickRadS = random.uniform(1, 2.5);
    later(draft, random.uniform(0.3, 0.45), [IMPLEMENT_DIP, level + 0.1]);
    later(draft, 0.14, [IMPLEMENT_DIP, level, -flickRadS]);
    knock(draft, 0.15, 0.5);
    later(draft, 0.12, [IMPLEMENT_DIP, level - 0.06 * flickRadS]);
  }
  later(draft, 0.6);
}

/** The implement tapped on a shoe or the ground: lowered, lifted a little, let down hard. */
function planTaps(draft: Draft): void {
  const { random } = draft;
  const down = 90 * RAD_PER_DEG;
  later(draft, 0.9, [IMPLEMENT_DIP, down]);
  for (let n = Math.floor(random.uniform(2, 5)); n > 0; n--) {
    const hitRadS = random.uniform(2, 6);
    later(draft, 0.22, [IMPLEMENT_DIP, down - random.uniform(15, 30) * RAD_PER_DEG]);
    later(draft, 0.14, [IMPLEMENT_DIP, down, hitRadS]);
    knock(draft, 0.15, 0.7);
    later(draft, 0.08, [IMPLEMENT_DIP, down + 0.03 * hitRadS]);
  }
  later(draft, 0.9);
}

/** A whole swing at no ball, at about the usual speed. */
function planPracticeSwing(draft: Draft): void {
  const { track, options, random } = draft;
  const contactS = draft.atS + 1.8;
  planSwing(track, options, random, contactS, random.uniform(0.8, 1.1));
  draft.atS = contactS + READY_AFTER_S;
}

/** Some steps with swinging arms; heels strike, and now and then the implement knocks against the leg. */
function planWalk(draft: Draft): void {
  const { random } = draft;
  const halfStepS = random.uniform(0.25, 0.3);
  const sway = (phase: -1 | 0 | 1, way: number, upM: number) => {
    // half way between two rests the minimum-jerk velocity is 1.875 times the mean
    const velocity = phase === 0 ? (way * 1.875) / halfStepS : 0;
    const arm = STRIDE.map(([channel, degrees]) => {
      const amplitude = degrees * RAD_PER_DEG;
      return [channel, phase * amplitude, velocity * amplitude] as const;
    });
    later(draft, halfStepS, ...arm, [SHOULDER_UP, upM]);
  };
  sway(1, 0, -0.02);
  for (let way = -1, n = Math.floor(random.uniform(4, 10)); n > 0; n--, way = -way) {
    knock(draft, 0.01, 0.03);
    sway(0, way, 0.02);
    if (random.uniform(0, 1) < 0.3) knock(draft, 0.1, 0.5);
    sway(way < 0 ? -1 : 1, 0, -0.02);
  }
  later(draft, 0.5);
}

/** The handle spun about its own axis while waiting, once around and back. */
function planTwirl(draft: Draft): void {
  const { random } = draft;
  later(draft, 0.1);
  later(draft, random.uniform(0.35, 0.7), [IMPLEMENT_TWIST, 2 * Math.PI]);
  later(draft, random.uniform(0.2, 0.6), [IMPLEMENT_TWIST, 2 * Math.PI]);
  later(draft, random.uniform(0.35, 0.7));
}

/** The implement slips from the hand; the forearm goes after it and, later, back. */
function planDrop(draft: Draft): void {
  const { random, ready } = draft;
  later(draft, 0.1);
  const qHeld = segmentOrientation(quaternion(), Float64Array.from(ready), 2);
  const { fall, knocks } = planFall(random, draft.atS, qHeld);
  draft.fall = fall;
  draft.knocks.push(...knocks);
  const reaching = random.uniform(25, 50) * RAD_PER_DEG;
  later(draft, random.uniform(0.4, 0.6), [FOREARM_DIP, reaching]);
  later(draft, fall.toS - draft.atS - 0.6, [FOREARM_DIP, reaching]);
  later(draft, 0.6);
}
