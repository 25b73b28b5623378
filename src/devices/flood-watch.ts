/** No sensor of ours sends more in a second, what is sent again included. */
const MOST_PER_S = 400;
/**
 * A page that was frozen gets everything at once when it wakes: as much as a sensor sends in a minute
 * (40 a second) is no flood after a pause.
 */
const MOST_AFTER_PAUSE = 2400;

/** Counts what one sensor sends against what it may send: an allowance that grows with time. */
export class FloodWatch {
  #allowance = MOST_PER_S;
  #lastUs: number;

  constructor(nowUs: number) {
    this.#lastUs = nowUs;
  }

  /** Something arrived. @returns true when it is one too many */
  isFlood(nowUs: number): boolean {
    const grown = this.#allowance + (MOST_PER_S * (nowUs - this.#lastUs)) / 1e6;
    this.#lastUs = nowUs;
    this.#allowance = Math.min(MOST_AFTER_PAUSE, grown) - 1;
    return this.#allowance < 0;
  }
}
