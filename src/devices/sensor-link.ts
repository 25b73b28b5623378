import { SEGMENT_WORDS, type Segment } from '../core/arm/segments.ts';
import type { SetRecord } from '../core/recording/set-record.ts';
import { waitBeforeAttempt } from './back-off.ts';
import { explainConnectionFailure, isFinal, isPassing } from './connection-failure.ts';
import { LinkSession } from './link-session.ts';
import type { LinkClock, OpenPort, SensorPort } from './sensor-port.ts';
import { SequenceGaps } from './sequence-gaps.ts';
import type { ConnectionState } from './transport.ts';

/** A sensor whose numbers begin anew on a live link is started again, but not more often than this in a set. */
const MOST_MISCOUNTS = 3;
/** To make a link for the first time; the coach is asked after that. */
const FIRST_ATTEMPTS = 4;

/** A battery is asked for its charge so often. */
const BATTERY_MS = 60_000;

/** Where a link puts what it has. */
export interface LinkOutputs {
  record(record: SetRecord): void;
  state(state: ConnectionState): void;
}

/**
 * One sensor over its port: makes the link, remakes it when it drops, and keeps the sensor's books over all
 * its links, so that what was sent in between is asked for or said to be lost.
 */
export class SensorLink {
  readonly port: SensorPort;
  readonly #segment: Segment;
  readonly #clock: LinkClock;
  readonly #out: LinkOutputs;
  readonly #gaps = new SequenceGaps();
  readonly #abandoned = new AbortController();
  #session: LinkSession | null = null;
  /** Resolves when neither a link nor an attempt is left. */
  #running: Promise<void> | null = null;
  /** Ends the wait before the next attempt. */
  #hurry: () => void = () => {};
  #miscounts = 0;
  /** Last known charge. */
  #batteryPercent: number | null = null;

  constructor(segment: Segment, port: SensorPort, clock: LinkClock, out: LinkOutputs) {
    this.#segment = segment;
    this.port = port;
    this.#clock = clock;
    this.#out = out;
  }

  /** Connects, or tries again at once. Resolves when streaming or failed; goes on by itself afterwards. */
  async start(): Promise<void> {
    if (this.#running !== null) {
      this.#hurry();
      return;
    }
    let settle: () => void = () => {};
    const settled = new Promise<void>((resolve) => {
      settle = resolve;
    });
    this.#running = this.#run(settle).finally(() => {
      this.#running = null;
      settle();
    });
    await settled;
  }

  /** Makes the sensor blink for so many seconds. */
  identify(seconds: number): void {
    this.#session?.identify(seconds);
  }

  /** Ends the link for good, after what was under way; says what is lost with it. */
  async close(): Promise<void> {
    const finishing = this.#session?.finish();
    this.#abandoned.abort();
    this.#hurry();
    await finishing;
    await this.#running;
    for (const run of this.#gaps.giveUpAll()) {
      const event = { type: 'packets-lost', segment: this.#segment, ...run } as const;
      this.#out.record({ kind: 'event', hostTimeUs: this.#clock.nowUs(), event });
    }
  }

  get #isClosed(): boolean {
    return this.#abandoned.signal.aborted;
  }

  async #run(onFirst: () => void): Promise<void> {
    this.#out.state({ state: 'connecting' });
    try {
      let session: LinkSession | null = await this.#first();
      onFirst();
      while (session !== null) {
        const reason = await session.ended;
        this.#session = null;
        if (this.#isClosed) return;
        // A sensor that floods is let go; one that counts anew is started anew.
        if (reason !== null && (isFinal(reason) || ++this.#miscounts > MOST_MISCOUNTS)) {
          throw reason;
        }
        session = await this.#remake(session.keepsPackets);
      }
    } catch (reason) {
      if (this.#isClosed) return;
      const error = explainConnectionFailure(reason, this.#segment, true);
      this.#out.state({ state: 'failed', error });
    }
  }

  /** Some stacks refuse a link now and then, most of all one that was let go a moment ago. @throws the last failure */
  async #first(): Promise<LinkSession> {
    for (let attempt = 1; ; attempt++) {
      try {
        return await this.#attempt();
      } catch (reason) {
        if (this.#isClosed || !isPassing(reason) || attempt === FIRST_ATTEMPTS) throw reason;
        await this.#pause(waitBeforeAttempt(attempt, 0) ?? 0);
      }
    }
  }

  /** @throws why there is no stream */
  async #attempt(): Promise<LinkSession> {
    const open = await this.port.open(this.#abandoned.signal);
    const session = new LinkSession({
      segment: this.#segment,
      open,
      clock: this.#clock,
      gaps: this.#gaps,
      record: (record) => this.#out.record(record),
    });
    await session.start();
    if (this.#isClosed) {
      await session.finish();
    } else {
      this.#session = session;
      void this.#tellStreaming(open, session);
    }
    return session;
  }

  /** The charge is told when it is known: a slow reading holds nothing up. */
  async #tellStreaming(open: OpenPort, session: LinkSession): Promise<void> {
    const { deviceWords } = open;
    const tell = () =>
      this.#out.state({ state: 'streaming', batteryPercent: this.#batteryPercent, deviceWords });
    tell();
    for (;;) {
      const batteryPercent = await open.readBattery();
      if (this.#session !== session || this.#isClosed) return;
      if (batteryPercent !== this.#batteryPercent) {
        this.#batteryPercent = batteryPercent;
        tell();
      }
      await this.#clock.wait(BATTERY_MS);
    }
  }

  /** @returns null when the link is wanted no longer @throws the last failure, when it is time to give up */
  async #remake(keepsPackets: boolean): Promise<LinkSession | null> {
    const lostUs = this.#clock.nowUs();
    const meanwhile = keepsPackets
      ? 'the last seconds of what it measures meanwhile are fetched when it is back'
      : 'what it measures meanwhile is lost';
    const message = `The ${SEGMENT_WORDS[this.#segment]} sensor is out of reach. Bring it closer or check its battery; ${meanwhile}.`;
    let waitMs: number | null = waitBeforeAttempt(1, 0);
    for (let attempt = 1; ; attempt++) {
      this.#out.state({ state: 'lost', message, attempt });
      await this.#pause(waitMs ?? 0);
      if (this.#isClosed) return null;
      try {
        return await this.#attempt();
      } catch (reason) {
        if (this.#isClosed) return null;
        waitMs = waitBeforeAttempt(attempt + 1, (this.#clock.nowUs() - lostUs) / 1000);
        if (waitMs === null || isFinal(reason)) throw reason;
      }
    }
  }

  async #pause(ms: number): Promise<void> {
    const hurried = new Promise<void>((resolve) => {
      this.#hurry = resolve;
    });
    await Promise.race([this.#clock.wait(ms), hurried]);
    this.#hurry = () => {};
  }
}
