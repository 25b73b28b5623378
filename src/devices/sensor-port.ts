import type { Observable } from 'rxjs';

/** One sensor as bytes: the only place where radio and simulator differ, and where tests put a mock. */
export interface SensorPort {
  /** Tells this sensor from others, also over reconnects. */
  readonly id: string;
  /**
   * Connects, finds the profile and subscribes, all anew.
   * @param abandoned aborts when the link is wanted no longer
   * @throws what connection-failure.ts can explain
   */
  open(abandoned: AbortSignal): Promise<OpenPort>;
  /** Makes the browser forget the sensor, where it can. */
  forget(): Promise<void>;
}

/** An open link. Everything ends with it; after a loss `open` gives a new one. */
export interface OpenPort {
  /** Value of the *info* characteristic. */
  readonly info: Uint8Array;
  /** Firmware and hardware in the maker's own words, or null when the sensor does not tell. */
  readonly deviceWords: string | null;
  /** Percent now, or null when the sensor does not tell; never rejects. */
  readBattery(): Promise<number | null>;
  /** Values of the *stream* characteristic, own bytes; completes when the link ends. */
  readonly notifications$: Observable<Uint8Array>;
  /** Values indicated by *control*; completes when the link ends. */
  readonly indications$: Observable<Uint8Array>;
  /** Writes to *control*; rejects when the link is gone. */
  writeControl(bytes: Uint8Array): Promise<void>;
  /** Resolves when the link has ended, by itself or by `close`. */
  readonly ended: Promise<void>;
  close(): void;
}

/** Time as the link sees it: real, or that of the simulation. Never runs backwards while a link lives. */
export interface LinkClock {
  /** Microseconds on the host timeline. */
  nowUs(): number;
  /** Resolves after so many milliseconds of this clock. */
  wait(ms: number): Promise<void>;
}
