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

/** What the coach did, and what the link knows. Edits append events; nothing recorded is ever changed. */
export type SetEvent =
  /** The two poses follow: arm hanging, then pointing at the target. */
  | { readonly type: 'zero-requested' }
  /** Points for the swing with this contact (host timeline, microseconds). */
  | { readonly type: 'score'; readonly contactTimeUs: number; readonly points: number }
  | { readonly type: 'score-withdrawn'; readonly contactTimeUs: number }
  | { readonly type: 'discarded'; readonly contactTimeUs: number }
  | { readonly type: 'discard-withdrawn'; readonly contactTimeUs: number }
  | { readonly type: 'note'; readonly text: string }
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
