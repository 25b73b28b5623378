import type { ControlReply, ControlRequest } from '../core/packets/control.ts';
import { decodeControlReply, encodeControlRequest } from '../core/packets/control-codec.ts';
import { NoAnswer } from './connection-failure.ts';
import type { LinkClock, OpenPort } from './sensor-port.ts';

/** A request that is not answered within this has failed. */
const ANSWER_WITHIN_MS = 2000;

/** Answer and the host times between which the sensor gave it, microseconds. */
export interface Answer<Op extends ControlReply['op']> {
  readonly reply: Extract<ControlReply, { readonly op: Op }>;
  readonly sentUs: number;
  readonly answeredUs: number;
}

interface Waiting {
  readonly op: ControlReply['op'];
  readonly answer: (reply: ControlReply, answeredUs: number) => void;
  readonly fail: (reason: Error) => void;
}

/** Requests and answers of one open link, matched by tag. Answers that match nothing are left out. */
export class ControlConversation {
  readonly #port: OpenPort;
  readonly #clock: LinkClock;
  readonly #waiting = new Map<number, Waiting>();
  #tag = 0;

  constructor(port: OpenPort, clock: LinkClock) {
    this.#port = port;
    this.#clock = clock;
    port.indications$.subscribe({
      next: (bytes) => {
        // Stamped here: promises go on later, when the clock may already have moved.
        const answeredUs = clock.nowUs();
        const decoded = decodeControlReply(bytes);
        if (!decoded.ok) return;
        const waiting = this.#waiting.get(decoded.tag);
        if (waiting?.op === decoded.reply.op) waiting.answer(decoded.reply, answeredUs);
      },
      complete: () => {
        for (const { fail } of [...this.#waiting.values()]) fail(new NoAnswer());
      },
    });
  }

  /**
   * Asks and waits for the answer.
   * @throws NoAnswer, or what the port's write rejects with
   */
  ask<Request extends ControlRequest>(request: Request): Promise<Answer<Request['op']>> {
    this.#tag = (this.#tag + 1) & 0xff;
    const tag = this.#tag;
    const sentUs = this.#clock.nowUs();
    return new Promise((resolve, reject) => {
      const fail = (reason: Error): void => {
        if (this.#waiting.get(tag) === waiting) this.#waiting.delete(tag);
        reject(reason);
      };
      const waiting: Waiting = {
        op: request.op,
        answer: (reply, answeredUs) => {
          this.#waiting.delete(tag);
          resolve({ reply: reply as Answer<Request['op']>['reply'], sentUs, answeredUs });
        },
        fail,
      };
      this.#waiting.set(tag, waiting);
      this.#port.writeControl(encodeControlRequest(request, tag)).catch(fail);
      void this.#clock.wait(ANSWER_WITHIN_MS).then(() => fail(new NoAnswer()));
    });
  }
}
