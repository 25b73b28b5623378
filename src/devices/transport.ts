import type { Observable } from 'rxjs';
import type { PerSegment, Segment } from '../core/arm/segments.ts';
import type { SetRecord } from '../core/recording/set-record.ts';

/** Where one sensor's link stands. */
export type ConnectionState =
  | { readonly state: 'absent' }
  | { readonly state: 'connecting' }
  | {
      readonly state: 'streaming';
      /** Read every minute; null when the sensor does not tell. */
      readonly batteryPercent: number | null;
      /** Firmware and hardware in the maker's words; null when the sensor does not tell. */
      readonly deviceWords: string | null;
    }
  /** The link dropped and is being remade by itself; `message` says what helps. */
  | { readonly state: 'lost'; readonly message: string; readonly attempt: number }
  | { readonly state: 'failed'; readonly error: ConnectionError };

/** Why a link could not be made or kept; `message` says what is wrong and what to do. */
export interface ConnectionError {
  readonly code:
    | 'no-bluetooth'
    | 'nothing-chosen'
    | 'not-our-sensor'
    | 'wrong-version'
    | 'refused'
    | 'timed-out'
    | 'link-failed'
    /** The link carries too little per notification for a sensor to start. */
    | 'mtu-too-small'
    /** The sensor did not start, or does not answer. */
    | 'did-not-start'
    /** More notifications than any sensor of ours sends. */
    | 'too-fast'
    /** Sequence numbers that fit nothing sent before, again and again. */
    | 'wrong-sequence';
  readonly message: string;
}

/**
 * Source of sensor bytes: the one place where radio, simulator and replay differ.
 * `hostTimeUs` of the records counts from `startTimeline`.
 */
export interface Transport {
  /** Sensor information, notifications and what the link knows, as they arrive; hot, completes on close. */
  readonly records$: Observable<SetRecord>;
  /** Current link states; replays the latest on subscription. */
  readonly connections$: Observable<PerSegment<ConnectionState>>;
  /** Zero of the host timeline is now. Links are made from here on, to remembered sensors by themselves. */
  startTimeline(): void;
  /** Makes one link, or remakes it at once; resolves when streaming or failed, never rejects. */
  connect(segment: Segment): Promise<void>;
  /** Makes one connected sensor blink for a few seconds. */
  identify(segment: Segment): void;
  /** Lets go of one sensor and makes the browser forget it, where it can. */
  forget(segment: Segment): Promise<void>;
  /** Microseconds on the host timeline. */
  nowUs(): number;
  /**
   * Lets what was asked for again come in (a second at most), stops streaming and lets go of every sensor.
   * Records that end a set belong after it.
   */
  close(): Promise<void>;
}
