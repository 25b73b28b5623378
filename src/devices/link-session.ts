import type { Segment } from '../core/arm/segments.ts';
import { decodeSensorInfo } from '../core/packets/sensor-info.ts';
import { checkStreamPacket } from '../core/packets/stream-packet.ts';
import type { SetRecord } from '../core/recording/set-record.ts';
import { OutOfLine, SensorRefused, StartRefused, TooFast } from './connection-failure.ts';
import { ControlConversation } from './control-conversation.ts';
import { FloodWatch } from './flood-watch.ts';
import type { LinkClock, OpenPort } from './sensor-port.ts';
import type { SequenceGaps, SequenceRun } from './sequence-gaps.ts';

/** Pings: quick ones for the first eight seconds, since the quickest way there and back decides; then one a second. */
const QUICK_PINGS = 80;
const QUICK_PING_US = 100_000;
const PING_US = 1e6;
/** How often a session looks whether something is due, when nothing arrives. */
const LOOK_MS = 100;
/** Unanswered requests for missing packets: one that is never answered must not hold up the others. */
const MOST_REQUESTS = 8;
/** A live sensor that brings nothing new for so long is asked whether it has more: ten packets a second are the least. */
const SILENCE_US = 1e6;
/** What is under way at the end may still come for so long. */
const LAST_LOOKS = 10;
/** The end of a set does not wait longer for a sensor to confirm that it stops. */
const STOP_WITHIN_MS = 500;

/** What a session works with. */
export interface SessionParts {
  readonly segment: Segment;
  readonly open: OpenPort;
  readonly clock: LinkClock;
  /** The sensor's books: they outlive the session. */
  readonly gaps: SequenceGaps;
  readonly record: (record: SetRecord) => void;
}

/**
 * One open link from start to end: hands every packet on exactly once, asks again for what is missing, says
 * for good what will not come, and pings. Bytes that do not decode are handed on too, for the record; their
 * sequence counts as missing.
 */
export class LinkSession {
  /** Resolves when the link has ended: with why it was let go, or null when it dropped or was finished. */
  readonly ended: Promise<Error | null>;
  /** Whether the sensor keeps packets for sending again. */
  keepsPackets = false;
  readonly #parts: SessionParts;
  readonly #talk: ControlConversation;
  readonly #flood: FloodWatch;
  /** Packets that overtake the answer to the start wait: only that says which one is the first. */
  #early: { bytes: Uint8Array; atUs: number }[] | null = [];
  #letGoFor: Error | null = null;
  #isOver = false;
  #asking = 0;
  #pinging = false;
  #pings = 0;
  #nextPingUs = 0;
  /** When something new came, or was asked for in vain. */
  #newestUs = 0;

  constructor(parts: SessionParts) {
    const { open, clock } = parts;
    this.#parts = parts;
    this.#talk = new ControlConversation(open, clock);
    this.#flood = new FloodWatch(clock.nowUs());
    this.ended = open.ended.then(() => {
      this.#isOver = true;
      return this.#letGoFor;
    });
    open.indications$.subscribe(() => this.#watchFlood(clock.nowUs()));
    open.notifications$.subscribe((bytes) => this.#hear(bytes));
  }

  /**
   * Reads who it is and starts the stream.
   * @throws why it does not stream; the port is closed then
   */
  async start(): Promise<void> {
    const { open, clock, gaps, segment } = this.#parts;
    try {
      const decoded = decodeSensorInfo(open.info);
      if (!decoded.ok) throw new SensorRefused(decoded.fault);
      const { resendPackets: ring, tickHz } = decoded.info;
      this.keepsPackets = ring > 0;
      const hostTimeUs = clock.nowUs();
      this.#parts.record({ kind: 'sensor-info', segment, hostTimeUs, bytes: open.info });
      const { reply, answeredUs } = await this.#talk.ask({ op: 'start' });
      if (reply.status !== 'ok') throw new StartRefused(reply.status);
      const { nextSequence, tick } = reply;
      this.#lose(gaps.starts({ nextSequence, tick, tickHz, ring, atUs: answeredUs }));
    } catch (reason) {
      open.close();
      throw this.#letGoFor ?? reason;
    }
    const overtaken = this.#early ?? [];
    this.#early = null;
    for (const { bytes, atUs } of overtaken) this.#take(bytes, atUs);
    this.#nextPingUs = clock.nowUs();
    this.#newestUs = clock.nowUs();
    void this.#look();
  }

  /** Makes the sensor blink for so many seconds. */
  identify(seconds: number): void {
    this.#talk.ask({ op: 'identify', seconds }).catch(() => {
      // It does not blink: the coach sees that.
    });
  }

  /** Lets what is under way come in, stops the sensor and closes the link. */
  async finish(): Promise<void> {
    const { open, clock, gaps } = this.#parts;
    await Promise.race([this.#askForMore(), clock.wait(LOOK_MS)]);
    for (let look = 0; look < LAST_LOOKS && gaps.missing > 0 && !this.#isOver; look++) {
      await clock.wait(LOOK_MS);
    }
    const stopped = this.#talk.ask({ op: 'stop' }).catch(() => {
      // Gone already; it stops by itself.
    });
    await Promise.race([stopped, clock.wait(STOP_WITHIN_MS)]);
    open.close();
  }

  #letGo(reason: Error): void {
    this.#letGoFor ??= reason;
    this.#parts.open.close();
  }

  #watchFlood(nowUs: number): void {
    if (this.#flood.isFlood(nowUs)) this.#letGo(new TooFast());
  }

  #hear(bytes: Uint8Array): void {
    const atUs = this.#parts.clock.nowUs();
    this.#watchFlood(atUs);
    if (this.#letGoFor !== null) return;
    if (this.#early === null) this.#take(bytes, atUs);
    else this.#early.push({ bytes, atUs });
  }

  #take(bytes: Uint8Array, atUs: number): void {
    const { gaps, segment, record } = this.#parts;
    const checked = checkStreamPacket(bytes);
    if (checked.ok) {
      const arrival = gaps.arrived(checked.packet, atUs);
      if (arrival === 'out-of-line') this.#letGo(new OutOfLine());
      if (arrival === 'out-of-line' || arrival === 'repeated') return;
      if (arrival === 'new' && !checked.packet.resent) this.#newestUs = atUs;
    }
    record({ kind: 'notification', segment, hostTimeUs: atUs, bytes });
    // Arriving packets look too, because timers sleep in hidden tabs.
    this.#doWhatIsDue();
  }

  async #look(): Promise<void> {
    while (!this.#isOver) {
      this.#doWhatIsDue();
      await this.#parts.clock.wait(LOOK_MS);
    }
  }

  #doWhatIsDue(): void {
    if (this.#isOver) return;
    const nowUs = this.#parts.clock.nowUs();
    this.#lose(this.#parts.gaps.giveUp(nowUs));
    if (this.#asking < MOST_REQUESTS) void this.#askForMissing(nowUs);
    if (nowUs - this.#newestUs >= SILENCE_US) {
      this.#newestUs = nowUs;
      void this.#askForMore();
    }
    if (!this.#pinging && nowUs >= this.#nextPingUs) void this.#ping(nowUs);
  }

  async #askForMissing(nowUs: number): Promise<void> {
    const { gaps } = this.#parts;
    const run = gaps.ask(nowUs);
    if (run === null) return;
    this.#asking++;
    try {
      const { reply } = await this.#talk.ask({ op: 'resend', ...run });
      if (reply.status === 'ok') this.#lose(gaps.answered(run, reply));
      else if (reply.status === 'gone') this.#lose(gaps.answered(run, null));
    } catch {
      // Asked again when it is due; a dead link ends by itself.
    } finally {
      this.#asking--;
    }
  }

  /** Finds packets that were lost with nothing after them to show the gap. */
  async #askForMore(): Promise<void> {
    const { gaps } = this.#parts;
    if (!this.keepsPackets) return;
    const run = gaps.beyond();
    try {
      const { reply } = await this.#talk.ask({ op: 'resend', ...run });
      if (reply.status === 'ok') gaps.exist(run, reply);
    } catch {
      // Asked again after more silence.
    }
  }

  async #ping(nowUs: number): Promise<void> {
    const { segment, record } = this.#parts;
    this.#pinging = true;
    this.#pings++;
    this.#nextPingUs = nowUs + (this.#pings < QUICK_PINGS ? QUICK_PING_US : PING_US);
    try {
      const { reply, sentUs, answeredUs } = await this.#talk.ask({ op: 'ping' });
      if (reply.status !== 'ok') return;
      const event = { type: 'clock-ping', segment, sentTimeUs: sentUs, tick: reply.tick } as const;
      record({ kind: 'event', hostTimeUs: answeredUs, event });
    } catch {
      // The next one may come through.
    } finally {
      this.#pinging = false;
    }
  }

  #lose(runs: readonly SequenceRun[]): void {
    const { segment, clock, record } = this.#parts;
    for (const run of runs) {
      const event = { type: 'packets-lost', segment, ...run } as const;
      record({ kind: 'event', hostTimeUs: clock.nowUs(), event });
    }
  }
}
