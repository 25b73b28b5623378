import type { LinkClock } from './sensor-port.ts';

interface Due {
  readonly atUs: number;
  readonly act: () => void;
}

/**
 * Time and air of the simulation: what is due happens in order when time is carried on, and while it happens
 * the clock stands exactly there.
 */
export class SimulatedRadio implements LinkClock {
  /** Sorted, the next one last. */
  readonly #due: Due[] = [];
  #nowUs = 0;

  nowUs(): number {
    return this.#nowUs;
  }

  wait(ms: number): Promise<void> {
    return new Promise((resolve) => this.at(this.#nowUs + 1000 * ms, resolve));
  }

  /** Puts something on the timetable, not earlier than now. */
  at(atUs: number, act: () => void): void {
    const due = { atUs: Math.max(atUs, this.#nowUs), act };
    let place = this.#due.length;
    // Most things are due soon: few steps from the end. Equal times keep their order.
    while (place > 0 && this.#due[place - 1]!.atUs <= due.atUs) place--;
    this.#due.splice(place, 0, due);
  }

  /**
   * Carries time on.
   * @param isEnough asked after each thing done; true stops here
   * @returns true when `untilUs` was reached
   */
  advance(untilUs: number, isEnough: () => boolean): boolean {
    for (;;) {
      const next = this.#due.at(-1);
      if (next === undefined || next.atUs > untilUs) {
        this.#nowUs = Math.max(this.#nowUs, untilUs);
        return true;
      }
      this.#due.pop();
      this.#nowUs = next.atUs;
      next.act();
      if (isEnough()) return false;
    }
  }
}
