import type { StreamPacket } from '../core/packets/stream-packet.ts';

/** A run of sequence numbers, wrapping at 65536. */
export interface SequenceRun {
  readonly firstSequence: number;
  readonly count: number;
}

/** What a packet is to the books; `out-of-line` fits no packet that may still come. */
export type Arrival = 'new' | 'filled' | 'repeated' | 'out-of-line';

/** Of a packet, what the books need. */
export type ArrivedPacket = Pick<StreamPacket, 'sequence' | 'firstTick' | 'resent'>;

/** What the answer to a start says about the sensor's numbers. */
export interface StartFacts {
  readonly nextSequence: number;
  readonly tick: number;
  readonly tickHz: number;
  /** Packets the sensor can send again. */
  readonly ring: number;
  /** Host time of the answer, microseconds. */
  readonly atUs: number;
}

interface Missing {
  /** Times it was asked for over this link, and when last, microseconds. */
  asks: number;
  askedUs: number;
}

const HALF_RANGE = 0x8000;
/** What did not come within this after it was asked for is asked for again, microseconds. */
const ASK_AGAIN_US = 1e6;
const MOST_ASKS = 5;
/** Packets asked for and under way at one time: more would hold up new ones. */
const MOST_UNDER_WAY = 64;
/** Packets that came, between two gaps asked for as one run. */
const LONGEST_BRIDGE = 8;
/** A jump further ahead on a live link, packets: a sensor that counts wrongly. 100 s at 40 a second. */
const LONGEST_JUMP = 4000;
/** Delivered packets that are remembered, to know a repeat from a sensor that began anew. */
const REMEMBERED = 4096;
/** A sensor counts on when its clock has gone as far as ours, within this. As in the pipeline's intake. */
const SAME_RUN_TOLERANCE_S = 2;

/**
 * Keeps the books of one sensor's sequence numbers over all its links: what came, what is missing, what is
 * given up. Every number is delivered or given up exactly once.
 */
export class SequenceGaps {
  /** Missing, in order of sequence. */
  readonly #missing = new Map<number, Missing>();
  /** Tick of the packets delivered last; null for those given up. */
  readonly #past = new Map<number, number | null>();
  /** One beyond the highest that came or was told of; -1 before the first. */
  #next = -1;
  #ring = 0;
  /** A tick of the sensor and the host time it belongs to, newest. */
  #tick = 0;
  #tickUs = 0;

  /** How many are missing and not given up. */
  get missing(): number {
    return this.#missing.size;
  }

  /** Enters a packet. Only what is new or fills a gap is to be handed on. */
  arrived(packet: ArrivedPacket, nowUs: number): Arrival {
    const { sequence, firstTick: tick, resent } = packet;
    const ahead = (sequence - this.#next) & 0xffff;
    if (this.#next >= 0 && ahead >= HALF_RANGE) {
      if (this.#missing.delete(sequence)) {
        this.#remember(sequence, tick);
        return 'filled';
      }
      const known = this.#past.get(sequence);
      return known === tick || known === null ? 'repeated' : 'out-of-line';
    }
    if (this.#next >= 0) {
      if (ahead > LONGEST_JUMP) return 'out-of-line';
      this.#expectUpTo(sequence);
    }
    this.#remember(sequence, tick);
    this.#next = (sequence + 1) & 0xffff;
    // Its tick is older than its arrival when it was sent again, asked for as one beyond what came.
    if (!resent) {
      this.#tick = tick;
      this.#tickUs = nowUs;
    }
    return 'new';
  }

  /**
   * The sensor told which new packet comes next: everything before it that did not come is missing, unless
   * its clock shows that it began anew.
   * @returns what will not come any more, given up
   */
  starts(facts: StartFacts): SequenceRun[] {
    const { nextSequence, tick, atUs } = facts;
    const isSameRun = this.#isSameRun(facts);
    this.#ring = facts.ring;
    const lost = isSameRun ? [] : this.giveUpAll();
    if (isSameRun) this.#expectUpTo(nextSequence);
    else this.#past.clear();
    this.#next = nextSequence;
    this.#tick = tick;
    this.#tickUs = atUs;
    for (const entry of this.#missing.values()) {
      entry.asks = 0;
      entry.askedUs = Number.NEGATIVE_INFINITY;
    }
    return lost;
  }

  #isSameRun({ nextSequence, tick, tickHz, atUs }: StartFacts): boolean {
    if (this.#next < 0 || ((nextSequence - this.#next) & 0xffff) >= HALF_RANGE) return false;
    const expected = this.#tick + Math.round((tickHz * (atUs - this.#tickUs)) / 1e6);
    // As a signed 32-bit number: ticks wrap.
    return Math.abs((tick - expected) | 0) < SAME_RUN_TOLERANCE_S * tickHz;
  }

  #expectUpTo(sequence: number): void {
    for (let s = this.#next; s !== sequence; s = (s + 1) & 0xffff) {
      this.#past.delete(s);
      this.#missing.set(s, { asks: 0, askedUs: Number.NEGATIVE_INFINITY });
    }
  }

  #remember(sequence: number, tick: number | null): void {
    this.#past.delete(sequence);
    this.#past.set(sequence, tick);
    if (this.#past.size > REMEMBERED) this.#past.delete(this.#past.keys().next().value!);
  }

  /**
   * The next run to ask for, what is missing in it marked as asked; null when nothing is due. Oldest first: the
   * ring forgets them next. A few packets that came may lie in between: they come twice and cost less than a
   * request of their own for each gap.
   */
  ask(nowUs: number): SequenceRun | null {
    let underWay = 0;
    for (const entry of this.#missing.values()) if (!isDue(entry, nowUs)) underWay++;
    // Else every packet that comes would free a request for one more.
    if (underWay > MOST_UNDER_WAY / 2) return null;
    let first = -1;
    let count = 0;
    for (const [sequence, entry] of this.#missing) {
      const asksFor = isDue(entry, nowUs) && entry.asks < MOST_ASKS;
      if (count === 0 && !asksFor) continue;
      if (count === 0) first = sequence;
      const reaching = ((sequence - first) & 0xffff) + 1;
      const isNear = reaching - count <= 1 + LONGEST_BRIDGE && reaching <= MOST_UNDER_WAY;
      if (!asksFor || !isNear || underWay >= MOST_UNDER_WAY) break;
      entry.asks++;
      entry.askedUs = nowUs;
      underWay++;
      count = reaching;
    }
    return count === 0 ? null : { firstSequence: first, count };
  }

  /** What a sensor would have to send if it had made more than came: asked for when nothing comes. */
  beyond(): SequenceRun {
    return { firstSequence: this.#next, count: MOST_UNDER_WAY };
  }

  /** Of {@link beyond}, the sensor has this: it is missing up to its end. */
  exist(asked: SequenceRun, made: SequenceRun): void {
    const end = (made.firstSequence + made.count) & 0xffff;
    const last = (end - 1) & 0xffff;
    const isAhead = ((end - this.#next) & 0xffff) < HALF_RANGE;
    if (!isIn(asked, made.firstSequence) || !isIn(asked, last) || !isAhead) return;
    this.#expectUpTo(end);
    this.#next = end;
  }

  /** Gives up what was asked for often enough without coming, and what the ring cannot hold any more. */
  giveUp(nowUs: number): SequenceRun[] {
    return this.#drop((entry, sequence) => {
      const isOutOfRing = ((this.#next - sequence) & 0xffff) > this.#ring;
      return isDue(entry, nowUs) && (isOutOfRing || entry.asks >= MOST_ASKS);
    });
  }

  /** Nothing will come any more. */
  giveUpAll(): SequenceRun[] {
    return this.#drop(() => true);
  }

  /**
   * The sensor's answer to a request: only `sent` of what was asked for will come.
   * @param sent null for nothing
   * @returns what will not, given up
   */
  answered(asked: SequenceRun, sent: SequenceRun | null): SequenceRun[] {
    return this.#drop(
      (_entry, sequence) => isIn(asked, sequence) && (sent === null || !isIn(sent, sequence)),
    );
  }

  #drop(isGone: (entry: Missing, sequence: number) => boolean): SequenceRun[] {
    const runs: { firstSequence: number; count: number }[] = [];
    for (const [sequence, entry] of this.#missing) {
      if (!isGone(entry, sequence)) continue;
      this.#missing.delete(sequence);
      this.#remember(sequence, null);
      const last = runs.at(-1);
      if (last !== undefined && sequence === ((last.firstSequence + last.count) & 0xffff))
        last.count++;
      else runs.push({ firstSequence: sequence, count: 1 });
    }
    return runs;
  }
}

/** Neither under way nor just asked for. */
function isDue(entry: Missing, nowUs: number): boolean {
  return nowUs - entry.askedUs >= ASK_AGAIN_US;
}

function isIn(run: SequenceRun, sequence: number): boolean {
  return ((sequence - run.firstSequence) & 0xffff) < run.count;
}
