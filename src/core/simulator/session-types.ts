import type { PerSegment } from '../arm/segments.ts';
import type { SetDescription } from '../recording/set-description.ts';
import type { SetRecord } from '../recording/set-record.ts';
import type { SensorErrors } from './sensor-errors.ts';

/** How the virtual player moves: see virtual-player.ts. */
export type MovementStrategy = 'distal' | 'frozen' | 'coupled' | 'proximal';

/** Names of the invented kit; see kit.ts. */
export type ImplementName = 'full' | 'short' | 'long';
export type BallName = 'standard' | 'training';

/** How a player gets on with an implement: what moves, and how large errors are. */
export interface Handling {
  readonly strategy: MovementStrategy;
  /** Size of every error of the movement, reach among them; 1: with the short racket, unless said otherwise. */
  readonly unsteadiness: number;
  /** Size of the error in when the ball is met, on top of what the ball does to it; 1 unless said otherwise. */
  readonly mistiming: number;
}

/** What the player does between two swings that is no swing at a ball; see plan-interlude.ts. */
export type InterludeName = 'bounces' | 'taps' | 'practice-swing' | 'walk' | 'twirl' | 'drop';

/** What a block is swung with. */
export interface Kit {
  readonly implement: ImplementName;
  readonly ball: BallName;
}

/** A block after the first: swung once the coach begins it. */
export interface LaterBlock extends Kit {
  readonly swings: number;
}

/** What to simulate. Everything random follows from `seed`. Kit and swings are those of the first block. */
export interface SessionOptions extends Kit {
  readonly seed: number;
  readonly strategy: MovementStrategy;
  /** With these implements in place of `strategy` and of what kit.ts says of them: they fit this player better or worse. */
  readonly handling?: Readonly<Partial<Record<ImplementName, Handling>>>;
  readonly handedness: 'left' | 'right';
  readonly swings: number;
  /** Mean time between contacts, seconds. */
  readonly swingIntervalS: number;
  readonly nominalRateHz: 100 | 200 | 400;
  readonly errors: SensorErrors;
  /** After every swing one of these, chosen at random; the time it takes comes on top. Absent: none. */
  readonly interludes?: readonly InterludeName[];
  /** In order. Absent: the session is one block. */
  readonly laterBlocks?: readonly LaterBlock[];
}

/** What the coach would see the ball do. */
export interface BallLanding {
  readonly contactTimeUs: number;
  readonly points: number;
  /** For instance 'in the box' or '0.6 m wide'. */
  readonly words: string;
}

/** A ball, with the host time at which it lands. */
export interface LandedBall {
  readonly hostTimeUs: number;
  readonly landing: BallLanding;
}

/** One thing the session emits, in order of host time. */
export type SimulatedStep =
  | { readonly kind: 'record'; readonly record: SetRecord }
  | ({ readonly kind: 'landing' } & LandedBall);

/** The truth of one swing, for tests only; never enters the pipeline. */
export interface SwingTruth {
  readonly contactTimeUs: number;
  readonly startTimeUs: number;
  readonly reachM: number;
  /** At 0..100 % between the true start and contact, shape (101). */
  readonly reachCurveM: Float64Array;
}

/** The truth of one sensor, for tests only. */
export interface SensorTruth {
  /** True time of a sensor tick (unwrapped), microseconds on the host timeline. */
  readonly hostUsFromTick: (tick: number) => number;
  /** Orientation of the segment in the court frame, quaternion scalar first, at a host time. */
  readonly qCourtFromSegmentAt: (hostTimeUs: number) => Float64Array;
}

/** When the player did something else than strike, for tests only. */
export interface InterludeTruth {
  readonly name: InterludeName;
  readonly fromUs: number;
  readonly toUs: number;
}

/** A running simulation: pull `steps` until they end. */
export interface SimulatedSession {
  readonly description: SetDescription;
  readonly steps: Generator<SimulatedStep, void, void>;
  /** Complete from the start, all blocks: the movement is planned before the first sample. */
  readonly truth: {
    readonly swings: readonly SwingTruth[];
    readonly interludes: readonly InterludeTruth[];
    readonly sensors: PerSegment<SensorTruth>;
  };
}
