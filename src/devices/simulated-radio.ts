import type { LinkClock } from './sensor-port.ts';

interface Due {
  readonly atUs: number;
  readonly act: () => void;
}

/**
 * Time and air of the simulation: what is due happens in order when time is carried on. While it happens, and
 * until every promise that it settled has gone on, the clock stands exactly there: what is recorded does not
 * depend on how time is cut into steps.
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
   * Carries time on. Not to be called again before it has resolved.
   * @param isEnough asked after each thing done; true stops here
   */
  async advance(untilUs: number, isEnough: () => boolean): Promise<void> {
    const rest = new Rest();
    await rest.come();
    for (;;) {
      const next = this.#due.at(-1);
      if (next === undefined || next.atUs > untilUs) {
        this.#nowUs = Math.max(this.#nowUs, untilUs);
        return rest.end();
      }
      this.#due.pop();
      this.#nowUs = next.atUs;
      next.act();
      await rest.come();
      if (isEnough()) return rest.end();
    }
  }
}

/** A task of its own, for which every settled promise goes on first. Timers would wait for milliseconds. */
class Rest {
  readonly #channel = new MessageChannel();

  come(): Promise<void> {
    return new Promise((resolve) => {
      this.#channel.port1.onmessage = () => resolve();
      this.#channel.port2.postMessage(null);
    });
  }

  end(): void {
    this.#channel.port1.close();
  }
}
