import type { Segment } from '../arm/segments.ts';

/**
 * One thing that happened in a set, in the order it reached this program.
 * `hostTimeUs` is microseconds on the host timeline (monotonic, zero at the start of the set).
 * The same records flow from radio, simulator, file and CSV import.
 */
export type SetRecord =
  | {
      readonly kind: 'sensor-info';
      readonly segment: Segment;
      readonly hostTimeUs: number;
      readonly bytes: Uint8Array;
    }
  | {
      readonly kind: 'notification';
      readonly segment: Segment;
      readonly hostTimeUs: number;
      readonly bytes: Uint8Array;
    }
  | { readonly kind: 'event'; readonly hostTimeUs: number; readonly event: SetEvent };

/** The reach the coach hopes for and how far from it still counts, metres. */
export interface SweetSpotBand {
  readonly reachM: number;
  readonly halfWidthM: number;
}

/** What a block is swung under: one implement, one ball, one way of feeding it. */
export interface Condition {
  readonly implement: string;
  readonly ball: string;
  /** How the ball comes, in the coach's words; empty when nobody said. */
  readonly feed: string;
  /** Wrist to sweet spot, and wrist to the implement's sensor, metres. */
  readonly implementLengthM: number;
  readonly implementSensorFromWristM: number;
  /** With this implement; null while nobody knows. */
  readonly sweetSpotBand: SweetSpotBand | null;
}

/** What the coach did, and what the link knows. Edits append events; nothing recorded is ever changed. */
export type SetEvent =
  /** The two poses follow: arm hanging, then pointing at the target. */
  | { readonly type: 'zero-requested' }
  /** Points for the swing with this contact (host timeline, microseconds). */
  | { readonly type: 'score'; readonly contactTimeUs: number; readonly points: number }
  | { readonly type: 'score-withdrawn'; readonly contactTimeUs: number }
  | {
      readonly type: 'discarded';
      readonly contactTimeUs: number;
      /** Why, in the coach's words; absent when nobody said. */
      readonly reason?: string;
    }
  | { readonly type: 'discard-withdrawn'; readonly contactTimeUs: number }
  /** Where the ball landed off the target's middle: beyond it (away from the player) and to its left, metres. */
  | {
      readonly type: 'landed';
      readonly contactTimeUs: number;
      readonly beyondM: number;
      readonly leftM: number;
    }
  | { readonly type: 'landing-withdrawn'; readonly contactTimeUs: number }
  /** By hand in review: where the swing with this contact (as found) really starts and ends, host timeline. */
  | {
      readonly type: 'ends-moved';
      readonly contactTimeUs: number;
      readonly startsAtUs: number;
      readonly endsAtUs: number;
    }
  | { readonly type: 'ends-restored'; readonly contactTimeUs: number }
  /** What follows is swung under this condition. Before the first block it is that of the description. */
  | { readonly type: 'block-began'; readonly condition: Condition }
  | { readonly type: 'note'; readonly text: string }
  /** The note said at this instant (host timeline, microseconds) is taken back. */
  | { readonly type: 'note-withdrawn'; readonly noteTimeUs: number }
  /** The player was told of the reach of this swing by the program. */
  | {
      readonly type: 'cued';
      readonly contactTimeUs: number;
      readonly cue: 'tone' | 'speech';
    }
  /** The three sensors are about to be shaken together in one hand, to align their clocks. */
  | { readonly type: 'shake-requested' }
  /** A ping was written at `sentTimeUs` and answered, by the time of this event, with the sensor's `tick` (u32). */
  | {
      readonly type: 'clock-ping';
      readonly segment: Segment;
      readonly sentTimeUs: number;
      readonly tick: number;
    }
  /** These packets will not come any more: the sensor no longer has them, or never answered. */
  | {
      readonly type: 'packets-lost';
      readonly segment: Segment;
      readonly firstSequence: number;
      readonly count: number;
    }
  | { readonly type: 'set-ended' };
