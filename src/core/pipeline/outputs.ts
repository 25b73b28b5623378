import type { PerSegment, Segment } from '../arm/segments.ts';
import type { Funnel } from '../measures/funnel.ts';
import type { Condition } from '../recording/set-record.ts';
import type { Swing } from '../swings/swing.ts';

/** Where zeroing stands. */
export type ZeroState =
  /** `problem` says why a zeroed arm needs the poses again; null when none were held yet. */
  | { readonly phase: 'not-started'; readonly problem: string | null }
  /** Hold 1: arm hanging, implement hanging from two fingers. `problem` says what was wrong last time. */
  | { readonly phase: 'plumb'; readonly problem: string | null }
  /** Hold 2: straight arm and implement level at the target, thumb up. */
  | { readonly phase: 'point'; readonly problem: string | null }
  | { readonly phase: 'zeroed'; readonly atTimeUs: number };

/** Where aligning the clocks by shaking the sensors together stands. */
export type ShakeState =
  | { readonly phase: 'none' }
  | { readonly phase: 'shaking' }
  /** Lags of forearm against upper arm and implement against forearm; likeness is the lower correlation. */
  | {
      readonly phase: 'aligned';
      readonly elbowLagMs: number;
      readonly wristLagMs: number;
      readonly likeness: number;
    }
  | { readonly phase: 'failed'; readonly problem: string };

/** How one sensor is doing, from its bytes alone. */
export interface SensorHealth {
  readonly packets: number;
  readonly samples: number;
  /** Packets lost for good, by sequence number. */
  readonly lostPackets: number;
  /** Packets that wait for others to be sent again. */
  readonly waitingPackets: number;
  /** Packets refused by the decoder, and the last reason in words. */
  readonly refusedPackets: number;
  readonly lastFault: string | null;
  readonly clippedSamples: number;
  /** Measured from ticks; NaN before two packets. */
  readonly rateHz: number;
  /** Spread of the radio delay (95th minus 5th percentile of recent packets), ms; NaN at first. */
  readonly delaySpreadMs: number;
  /** Least radio delay as pings show it (0 without pings) and half of what they leave open (NaN without), ms. */
  readonly leastDelayMs: number;
  readonly clockHalfWidthMs: number;
  /** Host time of the last good packet, microseconds; -1 when none came yet. */
  readonly lastArrivalUs: number;
}

/** A swing with what the coach said about it. */
export interface ScoredSwing {
  readonly swing: Swing;
  /** Contact as it was found, which is what edits name the swing by; `swing` has it where the coach moved it. */
  readonly foundContactUs: number;
  /** Place of its condition in {@link LiveView.blocks}. */
  readonly block: number;
  /** null: not scored. */
  readonly points: number | null;
  readonly discarded: boolean;
  /** Why, in the coach's words; null when nobody said or it is not discarded. */
  readonly discardReason: string | null;
  /** Where the ball landed off the target's middle: beyond it and to its left, metres; null: not told. */
  readonly landingM: readonly [beyond: number, left: number] | null;
  /** Start and contact were moved by hand; only review reads it so. */
  readonly endsMoved: boolean;
  /** The program told the player the reach, as the plan's feedback has it. */
  readonly cued: boolean;
}

/** The arm while the two poses are taken. */
export interface PoseLook {
  /** How much of the present hold is done, 0 to 1. */
  readonly holdShare: number;
  readonly isStill: PerSegment<boolean>;
  /** Of each segment's long axis above the horizontal, rad; NaN before the first hold has told where it lies. */
  readonly elevationRad: PerSegment<number>;
}

/** Something the coach wrote down. */
export interface Note {
  /** Host time, microseconds. */
  readonly atUs: number;
  readonly text: string;
}

/** Everything the live screen needs, cheap to copy between threads. */
export interface LiveView {
  readonly hostTimeUs: number;
  readonly sensors: PerSegment<SensorHealth>;
  readonly zero: ZeroState;
  /** null unless the poses are being taken. */
  readonly pose: PoseLook | null;
  readonly shake: ShakeState;
  /** Conditions of the blocks so far, one at least. */
  readonly blocks: readonly Condition[];
  /** All swings of the set so far, oldest first. */
  readonly swings: readonly ScoredSwing[];
  /** In the order in which they were said. */
  readonly notes: readonly Note[];
  /** Read with hindsight: headings also from what came after each swing. Never so while a set runs. */
  readonly isReview: boolean;
  /** Of swings that are neither void nor discarded. */
  readonly funnel: Funnel;
}

/** What one step of the pipeline has to say. */
export type PipelineOutput =
  | { readonly kind: 'swing'; readonly swing: Swing }
  | { readonly kind: 'zero'; readonly zero: ZeroState }
  | {
      readonly kind: 'packet-refused';
      readonly segment: Segment;
      readonly hostTimeUs: number;
      readonly message: string;
    };
