import { Subject } from 'rxjs';
import { vi } from 'vitest';
import type { ControlReply, ControlRequest } from '../../src/core/packets/control.ts';
import { decodeControlRequest, encodeControlReply } from '../../src/core/packets/control-codec.ts';
import { encodeSensorInfo, type SensorInfo } from '../../src/core/packets/sensor-info.ts';
import {
  decodeStreamPacket,
  encodeStreamPacket,
  type StreamPacket,
} from '../../src/core/packets/stream-packet.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { SensorLink } from '../../src/devices/sensor-link.ts';
import type { LinkClock, OpenPort, SensorPort } from '../../src/devices/sensor-port.ts';
import type { ConnectionState } from '../../src/devices/transport.ts';

const INFO: SensorInfo = {
  protocolVersion: 1,
  serial: '00112233445566aa',
  firmwareVersion: '1.0.0',
  tickHz: 10_000,
  rateHz: 200,
  supportedRatesHz: [200],
  gyroRangeDegS: 2000,
  accelRangeG: 16,
  gyroScaleRadS: 0.001,
  accelScaleMS2: 0.005,
  resendPackets: 240,
  magnetometerScaleT: null,
};

/** The link's time under vitest's fake timers. */
export const fakeClock: LinkClock = {
  nowUs: () => Math.round(performance.now() * 1000),
  wait: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
};

/** Lets fake time pass, promises included. */
export const pass = (ms: number) => vi.advanceTimersByTimeAsync(ms);

/** An open link of the mock, whose test decides what comes. */
export class MockLink implements OpenPort {
  readonly info: Uint8Array;
  batteryPercent = 55;
  readonly readBattery = async () => this.batteryPercent;
  readonly deviceWords = null;
  readonly notifications$ = new Subject<Uint8Array>();
  readonly indications$ = new Subject<Uint8Array>();
  readonly ended: Promise<void>;
  readonly writeControl: (bytes: Uint8Array) => Promise<void>;
  isOpen = true;
  #end: () => void = () => {};

  constructor(info: Uint8Array, write: (bytes: Uint8Array) => void) {
    this.info = info;
    this.writeControl = async (bytes) => {
      if (!this.isOpen) throw new DOMException('gone', 'NetworkError');
      write(bytes);
    };
    this.ended = new Promise((resolve) => {
      this.#end = resolve;
    });
  }

  close(): void {
    this.isOpen = false;
    this.notifications$.complete();
    this.indications$.complete();
    this.#end();
  }
}

/** A hand-written sensor behind the only mock point. Answers as SPEC.md says unless told otherwise. */
export class MockSensor implements SensorPort {
  readonly id: string;
  infoBytes: Uint8Array;
  /** Sequence and tick offset of the sensor's present run. */
  next = 0;
  tickOffset = 0;
  /** What it can send again. */
  readonly kept = new Map<number, StreamPacket>();
  /** Sequences that it does not send when asked, once each. */
  readonly withheld = new Set<number>();
  readonly requests: ControlRequest[] = [];
  readonly requestTimesMs: number[] = [];
  readonly links: MockLink[] = [];
  readonly openTimesMs: number[] = [];
  forgotten = false;
  /** Runs before each open; may throw or never settle. */
  beforeOpen: () => Promise<void> = () => Promise.resolve();
  /** What is indicated for a request; null for silence. */
  answer: (request: ControlRequest, tag: number) => Uint8Array | null = (request, tag) =>
    encodeControlReply(this.reply(request), tag);

  constructor(info: Partial<SensorInfo> = {}, id = 'mock') {
    this.id = id;
    this.infoBytes = encodeSensorInfo({ ...INFO, ...info });
  }

  get link(): MockLink {
    return this.links.at(-1)!;
  }

  get tick(): number {
    return (this.tickOffset + Math.round(performance.now() * 10)) % 2 ** 32;
  }

  async open(abandoned: AbortSignal): Promise<OpenPort> {
    this.openTimesMs.push(performance.now());
    const done = new AbortController();
    const aborted = new Promise<never>((_resolve, reject) => {
      const options = { once: true, signal: done.signal };
      abandoned.addEventListener('abort', () => reject(abandoned.reason), options);
    });
    await Promise.race([this.beforeOpen(), aborted]).finally(() => done.abort());
    const link = new MockLink(this.infoBytes, (bytes) => this.#hear(bytes));
    this.links.push(link);
    return link;
  }

  async forget(): Promise<void> {
    this.forgotten = true;
  }

  #hear(bytes: Uint8Array): void {
    const decoded = decodeControlRequest(bytes);
    if (!decoded.ok) throw new Error(`the link asked nonsense: ${decoded.status}`);
    this.requests.push(decoded.request);
    this.requestTimesMs.push(performance.now());
    const { link } = this;
    const answer = this.answer(decoded.request, decoded.tag);
    // At the next connection interval.
    setTimeout(() => {
      if (answer !== null) link.indications$.next(answer);
      if (decoded.request.op === 'resend') this.#sendAgain(decoded.request);
    }, 10);
  }

  reply(request: ControlRequest): ControlReply {
    const { op } = request;
    if (op === 'start') return { op, status: 'ok', nextSequence: this.next, tick: this.tick };
    if (op === 'ping') return { op, status: 'ok', tick: this.tick };
    if (op !== 'resend') return { op, status: 'ok' };
    const wanted = this.#wanted(request.firstSequence, request.count);
    const first = wanted[0];
    if (first === undefined) return { op, status: 'gone' };
    return { op, status: 'ok', firstSequence: first.sequence, count: wanted.length };
  }

  #wanted(firstSequence: number, count: number): StreamPacket[] {
    const wanted: StreamPacket[] = [];
    for (let i = 0; i < count; i++) {
      const packet = this.kept.get((firstSequence + i) & 0xffff);
      if (packet !== undefined) wanted.push(packet);
    }
    return wanted;
  }

  #sendAgain({ firstSequence, count }: { firstSequence: number; count: number }): void {
    for (const packet of this.#wanted(firstSequence, count)) {
      if (!this.withheld.delete(packet.sequence)) this.send({ ...packet, resent: true });
    }
  }

  /** The next packet, kept for sending again. */
  make(): StreamPacket {
    const packet: StreamPacket = {
      clipped: false,
      dropped: false,
      resent: false,
      sequence: this.next,
      firstTick: this.tick,
      spanTicks: 0,
      samples: Int16Array.of(1, 2, 3, 4, 5, 6),
      magnetometer: null,
    };
    this.next = (this.next + 1) & 0xffff;
    this.kept.set(packet.sequence, packet);
    return packet;
  }

  send(packet: StreamPacket): void {
    this.link.notifications$.next(encodeStreamPacket(packet));
  }

  /** Makes and sends packets, 50 ms apart; those whose place is named are withheld. */
  async stream(count: number, withheld: readonly number[] = []): Promise<void> {
    for (let i = 0; i < count; i++) {
      const packet = this.make();
      if (!withheld.includes(i)) this.send(packet);
      await pass(50);
    }
  }

  requestsOf<Op extends ControlRequest['op']>(op: Op): Extract<ControlRequest, { op: Op }>[] {
    return this.requests.filter((request) => request.op === op) as never;
  }
}

/** One sensor on the forearm, with all that comes out of its link. */
export function linkTo(sensor: MockSensor) {
  const records: SetRecord[] = [];
  const states: ConnectionState[] = [];
  const link = new SensorLink('forearm', sensor, fakeClock, {
    record: (record) => records.push(record),
    state: (state) => states.push(state),
  });
  return {
    link,
    records,
    states,
    /** Sequences handed on, in order of arrival; -1 for bytes that do not decode. */
    sequences: () => sequencesOf(records),
    lost: () => lostIn(records),
    last: () => states.at(-1)!,
  };
}

export function sequencesOf(records: readonly SetRecord[]): number[] {
  return records.flatMap((record) => {
    if (record.kind !== 'notification') return [];
    const decoded = decodeStreamPacket(record.bytes);
    return [decoded.ok ? decoded.packet.sequence : -1];
  });
}

export function lostIn(records: readonly SetRecord[]): [number, number][] {
  return records.flatMap((record) =>
    record.kind === 'event' && record.event.type === 'packets-lost'
      ? [[record.event.firstSequence, record.event.count] as [number, number]]
      : [],
  );
}
