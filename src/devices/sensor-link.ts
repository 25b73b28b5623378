import { SEGMENT_WORDS, type Segment } from '../core/arm/segments.ts';
import { decodeSensorInfo } from '../core/packets/sensor-info.ts';
import { decodeStreamPacket } from '../core/packets/stream-packet.ts';
import type { SetEvent, SetRecord } from '../core/recording/set-record.ts';
import {
  explainConnectionFailure,
  SensorRefused,
  StartRefused,
  TooFast,
} from './connection-failure.ts';
import { ControlConversation } from './control-conversation.ts';
import type { LinkClock, OpenPort, SensorPort } from './sensor-port.ts';
import { SequenceGaps, type SequenceRun } from './sequence-gaps.ts';
import type { ConnectionState } from './transport.ts';

/** Waits between attempts to remake a link: 0.25 s doubling to 4 s, for a minute. */
const FIRST_WAIT_MS = 250;
const LONGEST_WAIT_MS = 4000;
const GIVE_UP_AFTER_US = 60e6;
/** Pings: five quick ones after each start, then one every five seconds. */
const QUICK_PINGS = 5;
const QUICK_PING_US = 200_000;
const PING_US = 5e6;
/** No sensor of ours sends more notifications in a second; resent packets come on top of 40 new ones. */
const MOST_PER_S = 400;
/** How often a link looks whether something is due, when nothing arrives. */
const LOOK_MS = 100;

/** Where a link puts what it has. */
export interface LinkOutputs {
  record(record: SetRecord): void;
  state(state: ConnectionState): void;
}

/**
 * One sensor over its port: starts it, asks again for what is missing, remakes the link when it drops, and
 * says for good what will not come. Every packet is handed on exactly once; raw bytes that do not decode are
 * handed on too, for the record, and count as missing.
 */
export class SensorLink {
  readonly port: SensorPort;
  readonly #segment: Segment;
  readonly #clock: LinkClock;
  readonly #out: LinkOutputs;
  readonly #gaps = new SequenceGaps();
  #open: OpenPort | null = null;
  #talk: ControlConversation | null = null;
  #ring = 0;
  #closed = false;
  #asking = false;
  #pinging = false;
  #pings = 0;
  #nextPingUs = 0;
  #secondStartUs = 0;
  #inSecond = 0;
  #refusal: Error | null = null;

  constructor(segment: Segment, port: SensorPort, clock: LinkClock, out: LinkOutputs) {
    this.#segment = segment;
    this.port = port;
    this.#clock = clock;
    this.#out = out;
  }

  /** Connects and streams. Resolves when streaming or failed; goes on by itself afterwards. */
  async start(): Promise<void> {
    this.#out.state({ state: 'connecting' });
    try {
      await this.#begin();
    } catch (reason) {
      this.#fail(reason);
      return;
    }
    void this.#keepUp();
  }

  /** Makes the sensor blink for so many seconds. */
  identify(seconds: number): void {
    this.#talk?.ask({ op: 'identify', seconds }).catch(() => {
      // It does not blink: the coach sees that.
    });
  }

  /** Ends the link for good; the sensor is told to stop when it can still hear. */
  async close(): Promise<void> {
    this.#closed = true;
    try {
      await this.#talk?.ask({ op: 'stop' });
    } catch {
      // Gone already; it stops by itself.
    }
    this.#open?.close();
  }

  async #begin(): Promise<void> {
    this.#refusal = null;
    const open = await this.port.open();
    this.#open = open;
    try {
      const decoded = decodeSensorInfo(open.info);
      if (!decoded.ok) throw new SensorRefused(decoded.fault);
      this.#ring = decoded.info.resendPackets;
      this.#record({ kind: 'sensor-info', bytes: open.info }, this.#clock.nowUs());
      // Packets that overtake the answer to the start wait: only that says which one is the first.
      let early: { bytes: Uint8Array; atUs: number }[] | null = [];
      open.notifications$.subscribe((bytes) => {
        const atUs = this.#clock.nowUs();
        if (early !== null) early.push({ bytes, atUs });
        else this.#take(open, bytes, atUs);
      });
      this.#talk = new ControlConversation(open, this.#clock);
      const { reply } = await this.#talk.ask({ op: 'start' });
      if (reply.status !== 'ok' || reply.op !== 'start') throw new StartRefused(reply.status);
      this.#gaps.starts(reply.nextSequence, this.#ring);
      const overtaken = early;
      early = null;
      for (const { bytes, atUs } of overtaken) this.#take(open, bytes, atUs);
    } catch (reason) {
      this.#talk = null;
      open.close();
      throw reason;
    }
    this.#pings = 0;
    this.#nextPingUs = this.#clock.nowUs();
    this.#out.state({ state: 'streaming', batteryPercent: open.batteryPercent });
    void this.#look(open);
  }

  /** Remakes the link whenever it ends. */
  async #keepUp(): Promise<void> {
    while (!this.#closed) {
      await this.#open?.ended;
      this.#talk = null;
      if (this.#closed) return;
      if (this.#refusal !== null) return this.#fail(this.#refusal);
      if (!(await this.#remake())) return;
    }
  }

  async #remake(): Promise<boolean> {
    const lostUs = this.#clock.nowUs();
    let waitMs = FIRST_WAIT_MS;
    for (let attempt = 1; !this.#closed; attempt++) {
      const message = `The ${SEGMENT_WORDS[this.#segment]} sensor is out of reach. Bring it closer or check its battery; what it records meanwhile is fetched when it is back.`;
      this.#out.state({ state: 'lost', message, attempt });
      try {
        await this.#begin();
        return true;
      } catch (reason) {
        if (this.#clock.nowUs() - lostUs > GIVE_UP_AFTER_US || isFinal(reason)) {
          this.#fail(reason);
          return false;
        }
      }
      await this.#clock.wait(waitMs);
      waitMs = Math.min(LONGEST_WAIT_MS, 2 * waitMs);
    }
    return false;
  }

  #fail(reason: unknown): void {
    const error = explainConnectionFailure(reason, this.#segment, true);
    if (!this.#closed) this.#out.state({ state: 'failed', error });
  }

  #take(open: OpenPort, bytes: Uint8Array, atUs: number): void {
    if (this.#isFlood(atUs)) {
      this.#refusal = new TooFast();
      open.close();
      return;
    }
    const decoded = decodeStreamPacket(bytes);
    if (decoded.ok && !this.#gaps.arrived(decoded.packet.sequence)) return;
    this.#record({ kind: 'notification', bytes }, atUs);
    this.#doWhatIsDue();
  }

  #isFlood(nowUs: number): boolean {
    if (nowUs - this.#secondStartUs >= 1e6) {
      this.#secondStartUs = nowUs;
      this.#inSecond = 0;
    }
    this.#inSecond++;
    return this.#inSecond > MOST_PER_S;
  }

  /** Looks regularly; arriving packets look too, because timers sleep in hidden tabs. */
  async #look(open: OpenPort): Promise<void> {
    while (this.#open === open && this.#talk !== null && !this.#closed) {
      this.#doWhatIsDue();
      await this.#clock.wait(LOOK_MS);
    }
  }

  #doWhatIsDue(): void {
    const nowUs = this.#clock.nowUs();
    for (const run of this.#gaps.giveUp(nowUs)) this.#lose(run);
    if (this.#talk === null) return;
    if (!this.#asking) void this.#askForMissing(this.#talk, nowUs);
    if (!this.#pinging && nowUs >= this.#nextPingUs) void this.#ping(this.#talk);
  }

  async #askForMissing(talk: ControlConversation, nowUs: number): Promise<void> {
    const run = this.#gaps.ask(nowUs);
    if (run === null) return;
    if (this.#ring === 0) {
      for (const lost of this.#gaps.answered(run, null)) this.#lose(lost);
      return;
    }
    this.#asking = true;
    try {
      const { reply } = await talk.ask({ op: 'resend', ...run });
      if (reply.op !== 'resend') return;
      if (reply.status === 'ok')
        for (const lost of this.#gaps.answered(run, reply)) this.#lose(lost);
      if (reply.status === 'gone')
        for (const lost of this.#gaps.answered(run, null)) this.#lose(lost);
    } catch {
      // Asked again when it is due; a dead link ends by itself.
    } finally {
      this.#asking = false;
    }
  }

  async #ping(talk: ControlConversation): Promise<void> {
    this.#pinging = true;
    this.#pings++;
    this.#nextPingUs = this.#clock.nowUs() + (this.#pings < QUICK_PINGS ? QUICK_PING_US : PING_US);
    try {
      const { reply, sentUs, answeredUs } = await talk.ask({ op: 'ping' });
      if (reply.op === 'ping' && reply.status === 'ok') {
        const segment = this.#segment;
        const event = {
          type: 'clock-ping',
          segment,
          sentTimeUs: Math.max(0, sentUs),
          tick: reply.tick,
        } as const;
        this.#event(event, answeredUs);
      }
    } catch {
      // The next one may come through.
    } finally {
      this.#pinging = false;
    }
  }

  #lose(run: SequenceRun): void {
    this.#event({ type: 'packets-lost', segment: this.#segment, ...run }, this.#clock.nowUs());
  }

  #event(event: SetEvent, hostTimeUs: number): void {
    this.#out.record({ kind: 'event', hostTimeUs, event });
  }

  #record(
    part: { readonly kind: 'sensor-info' | 'notification'; readonly bytes: Uint8Array },
    hostTimeUs: number,
  ): void {
    this.#out.record({ ...part, segment: this.#segment, hostTimeUs });
  }
}

/** Trying again would not help. */
function isFinal(reason: unknown): boolean {
  return reason instanceof SensorRefused || reason instanceof StartRefused;
}
