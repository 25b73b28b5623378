/** A run of sequence numbers, wrapping at 65536. */
export interface SequenceRun {
  readonly firstSequence: number;
  readonly count: number;
}

interface Missing {
  /** Times it was asked for, and when last, microseconds. */
  asks: number;
  askedUs: number;
}

const HALF_RANGE = 0x8000;
/** What did not come within this after it was asked for is asked for again, microseconds. */
const ASK_AGAIN_US = 1e6;
const MOST_ASKS = 5;
/** Packets of one request: more would hold up new ones. */
const LONGEST_RUN = 64;

/** Keeps the books of one sensor's sequence numbers: what came, what is missing, what is given up. */
export class SequenceGaps {
  readonly #missing = new Map<number, Missing>();
  /** One beyond the highest that came or was told of; -1 before the first. */
  #next = -1;

  /** How many are missing and not given up. */
  get missing(): number {
    return this.#missing.size;
  }

  /** @returns false for one that came before or was given up */
  arrived(sequence: number): boolean {
    if (this.#next < 0) this.#next = sequence;
    const ahead = (sequence - this.#next) & 0xffff;
    if (ahead >= HALF_RANGE) return this.#missing.delete(sequence);
    this.#expectUpTo(sequence);
    this.#next = (sequence + 1) & 0xffff;
    return true;
  }

  /**
   * The sensor told which new packet comes next: everything before it that did not come is missing.
   * @param ring how many packets it can send again
   * @returns false when the numbers began anew: nothing is asked for then
   */
  starts(nextSequence: number, ring: number): boolean {
    const ahead = (nextSequence - this.#next) & 0xffff;
    const isSameRun = this.#next >= 0 && ahead < HALF_RANGE && ahead <= LONGEST_ABSENCE + ring;
    if (!isSameRun) this.#missing.clear();
    else this.#expectUpTo(nextSequence);
    this.#next = nextSequence;
    return isSameRun;
  }

  #expectUpTo(sequence: number): void {
    for (let s = this.#next; s !== sequence; s = (s + 1) & 0xffff) {
      this.#missing.set(s, { asks: 0, askedUs: Number.NEGATIVE_INFINITY });
    }
  }

  /** The next run to ask for, marked as asked; null when nothing is due. */
  ask(nowUs: number): SequenceRun | null {
    let first = -1;
    let count = 0;
    for (const [sequence, entry] of this.#missing) {
      const isDue = entry.asks < MOST_ASKS && nowUs - entry.askedUs >= ASK_AGAIN_US;
      if (count > 0 && (!isDue || sequence !== ((first + count) & 0xffff))) break;
      if (!isDue) continue;
      if (count === 0) first = sequence;
      entry.asks++;
      entry.askedUs = nowUs;
      count++;
      if (count === LONGEST_RUN) break;
    }
    return count === 0 ? null : { firstSequence: first, count };
  }

  /** Runs that were asked for often enough without coming; they are given up. */
  giveUp(nowUs: number): SequenceRun[] {
    return this.#drop((entry) => entry.asks >= MOST_ASKS && nowUs - entry.askedUs >= ASK_AGAIN_US);
  }

  /**
   * The sensor's answer to a request: only `sent` of what was asked for will come.
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
      const last = runs.at(-1);
      if (last !== undefined && sequence === ((last.firstSequence + last.count) & 0xffff))
        last.count++;
      else runs.push({ firstSequence: sequence, count: 1 });
    }
    return runs;
  }
}

/** Sequence numbers further ahead than an absence this long (packets) belong to another run of the sensor. */
const LONGEST_ABSENCE = 4000;

function isIn(run: SequenceRun, sequence: number): boolean {
  return ((sequence - run.firstSequence) & 0xffff) < run.count;
}
