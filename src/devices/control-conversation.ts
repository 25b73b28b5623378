import type { ControlReply, ControlRequest } from '../core/packets/control.ts';
import { decodeControlReply, encodeControlRequest } from '../core/packets/control-codec.ts';
import type { LinkClock, OpenPort } from './sensor-port.ts';

/** A sensor that does not answer within this is asked no longer. */
const ANSWER_WITHIN_MS = 2000;

/** A control request was not answered in time, or the link ended before. */
export class NoAnswer extends Error {
  override readonly name = 'NoAnswer';
}

/** Answer and the host times between which the sensor gave it, microseconds. */
export interface Answer {
  readonly reply: ControlReply;
  readonly sentUs: number;
  readonly answeredUs: number;
}

/** Requests and answers of one open link, matched by tag. Answers that match nothing are left out. */
export class ControlConversation {
  readonly #port: OpenPort;
  readonly #clock: LinkClock;
  readonly #waiting = new Map<number, (reply: ControlReply) => void>();
  #tag = 0;

  constructor(port: OpenPort, clock: LinkClock) {
    this.#port = port;
    this.#clock = clock;
    port.indications$.subscribe((bytes) => {
      const decoded = decodeControlReply(bytes);
      if (decoded.ok) this.#waiting.get(decoded.tag)?.(decoded.reply);
    });
  }

  /**
   * Asks and waits for the answer.
   * @throws NoAnswer, or what the port's write rejects with
   */
  async ask(request: ControlRequest): Promise<Answer> {
    this.#tag = (this.#tag + 1) & 0xff;
    const tag = this.#tag;
    try {
      const answered = new Promise<ControlReply>((resolve) => this.#waiting.set(tag, resolve));
      const sentUs = this.#clock.nowUs();
      await this.#port.writeControl(encodeControlRequest(request, tag));
      const late = Promise.race([this.#clock.wait(ANSWER_WITHIN_MS), this.#port.ended]);
      const reply = await Promise.race([answered, late]);
      if (reply === undefined || reply.op !== request.op) throw new NoAnswer();
      return { reply, sentUs, answeredUs: this.#clock.nowUs() };
    } finally {
      this.#waiting.delete(tag);
    }
  }
}
