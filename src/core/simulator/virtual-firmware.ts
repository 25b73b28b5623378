import type { ControlReply, ControlRequest } from '../packets/control.ts';
import {
  decodeControlRequest,
  encodeControlReply,
  encodeRefusal,
} from '../packets/control-codec.ts';
import type { SensorInfo } from '../packets/sensor-info.ts';
import { encodeStreamPacket, type StreamPacket } from '../packets/stream-packet.ts';
import type { MadePacket } from './sample-stream.ts';
import { mtuFor, splitPacket } from './split-packet.ts';

/** What a simulated sensor's firmware runs on. */
export interface FirmwareHardware {
  readonly info: SensorInfo;
  /** Packets as the part makes them, in order of time. */
  readonly packets: Iterator<MadePacket, void>;
  /** The sensor's own tick at a true time, not yet wrapped. */
  readonly tickAt: (trueUs: number) => number;
}

/** Below this ATT MTU a sensor does not start. */
const LEAST_MTU = 65;
/** While its link is down a sensor goes on sampling for so long, microseconds (SPEC.md, "Holding"). */
const HOLDING_US = 60e6;

/**
 * The firmware of SPEC.md in TypeScript, without timers: the owner tells it what time it is. Serves the
 * simulated player and the emulated radio of the browser tests alike.
 */
export class VirtualFirmware {
  readonly info: SensorInfo;
  readonly #hardware: FirmwareHardware;
  /** The newest packets, oldest first, no more than the ring holds. */
  readonly #ring: StreamPacket[] = [];
  /** Packets asked for again, to go out with the next ones. */
  readonly #again = new Set<StreamPacket>();
  #next: IteratorResult<MadePacket, void>;
  /** Made while streaming and not yet handed out by `advance`. */
  readonly #fresh: StreamPacket[] = [];
  #nextSequence = 0;
  /** Packets more than the part made, because some were split to fit the MTU. */
  #extra = 0;
  /** No sample was lost before the first packet after a start from idle. */
  #isFirst = false;
  #state: 'idle' | 'streaming' | 'holding' = 'idle';
  #linkLostUs = 0;
  #linkMtu = 23;
  /** Of the last start: it decides the size of packets, also while holding. */
  #mtu = LEAST_MTU;
  #blinkingUntilUs = 0;

  constructor(hardware: FirmwareHardware) {
    this.info = hardware.info;
    this.#hardware = hardware;
    this.#next = hardware.packets.next();
    if (!this.#next.done) this.#nextSequence = this.#next.value.packet.sequence;
  }

  /** True when the part will make no more packets (the simulated player has gone home). */
  get isOver(): boolean {
    return this.#next.done === true;
  }

  /** True time at which the next packet is made, microseconds; null when over. */
  get nextMadeUs(): number | null {
    return this.#next.done ? null : this.#next.value.madeUs;
  }

  /** Whether the light blinks at a true time. */
  isBlinking(nowUs: number): boolean {
    return nowUs < this.#blinkingUntilUs;
  }

  /** The link is up again; nothing is sent before a start. */
  linkUp(mtu: number): void {
    this.#linkMtu = mtu;
  }

  /** The link dropped: a streaming sensor goes on filling its ring. */
  linkLost(nowUs: number): void {
    this.#make(nowUs);
    this.#fresh.length = 0;
    this.#again.clear();
    if (this.#state !== 'streaming') return;
    this.#state = 'holding';
    this.#linkLostUs = nowUs;
  }

  /**
   * Lets time pass.
   * @returns notifications to send now, in order
   */
  advance(nowUs: number): Uint8Array[] {
    this.#make(nowUs);
    const out = this.#fresh.splice(0).map(encodeStreamPacket);
    if (this.#state !== 'streaming') return out;
    for (const packet of this.#again) out.push(encodeStreamPacket({ ...packet, resent: true }));
    this.#again.clear();
    return out;
  }

  /** Takes from the part what it has made by now, in the state the firmware was in. */
  #make(nowUs: number): void {
    while (!this.#next.done && this.#next.value.madeUs <= nowUs) {
      const { madeUs, packet } = this.#next.value;
      this.#endHolding(madeUs);
      const sequence = (packet.sequence + this.#extra) & 0xffff;
      // The part makes packets in idle too, so that its numbers and samples belong together.
      const parts =
        this.#state === 'idle'
          ? [{ ...packet, sequence }]
          : splitPacket(
              { ...packet, sequence, dropped: packet.dropped && !this.#isFirst },
              this.#mtu,
            );
      if (this.#state !== 'idle') this.#isFirst = false;
      if (this.#state !== 'idle') this.#ring.push(...parts);
      while (this.#ring.length > this.info.resendPackets) this.#again.delete(this.#ring.shift()!);
      if (this.#state === 'streaming') this.#fresh.push(...parts);
      this.#extra += parts.length - 1;
      this.#nextSequence = (sequence + parts.length) & 0xffff;
      this.#next = this.#hardware.packets.next();
    }
    this.#endHolding(nowUs);
  }

  #endHolding(nowUs: number): void {
    if (this.#state === 'holding' && nowUs - this.#linkLostUs >= HOLDING_US) this.#goIdle();
  }

  /** What is indicated for what was written to control. */
  onRequest(bytes: Uint8Array, nowUs: number): Uint8Array {
    this.#make(nowUs);
    const decoded = decodeControlRequest(bytes);
    if (!decoded.ok) return encodeRefusal(decoded.opcode, decoded.tag, decoded.status);
    return encodeControlReply(this.#answer(decoded.request, nowUs), decoded.tag);
  }

  #answer(request: ControlRequest, nowUs: number): ControlReply {
    switch (request.op) {
      case 'start':
        return this.#start(nowUs);
      case 'stop':
        this.#goIdle();
        return { op: 'stop', status: 'ok' };
      case 'configure':
        return { op: 'configure', status: this.#configure(request) };
      case 'identify':
        this.#blinkingUntilUs = nowUs + request.seconds * 1e6;
        return { op: 'identify', status: 'ok' };
      case 'ping':
        return { op: 'ping', status: 'ok', tick: this.#tick(nowUs) };
      case 'resend':
        return this.#resend(request.firstSequence, request.count);
    }
  }

  /** The simulated part has one setting. */
  #configure(wanted: Extract<ControlRequest, { op: 'configure' }>) {
    const { rateHz, gyroRangeDegS, accelRangeG } = this.info;
    const offered =
      wanted.rateHz === rateHz &&
      wanted.gyroRangeDegS === gyroRangeDegS &&
      wanted.accelRangeG === accelRangeG;
    if (!offered) return 'bad-value';
    return this.#state === 'idle' ? 'ok' : 'wrong-state';
  }

  #start(nowUs: number): ControlReply {
    if (this.#linkMtu < LEAST_MTU) return { op: 'start', status: 'mtu-too-small' };
    this.#mtu = this.#linkMtu;
    const tooLong = this.#ring.findLastIndex((packet) => mtuFor(packet) > this.#mtu);
    this.#ring.splice(0, tooLong + 1);
    if (this.#state === 'idle') this.#isFirst = true;
    this.#state = 'streaming';
    const tick = this.#tick(nowUs);
    return { op: 'start', status: 'ok', nextSequence: this.#nextSequence, tick };
  }

  #resend(firstSequence: number, count: number): ControlReply {
    if (this.#state !== 'streaming') return { op: 'resend', status: 'wrong-state' };
    const wanted = this.#ring.filter(
      (packet) => ((packet.sequence - firstSequence) & 0xffff) < count,
    );
    const first = wanted[0];
    if (first === undefined) return { op: 'resend', status: 'gone' };
    for (const packet of wanted) this.#again.add(packet);
    return { op: 'resend', status: 'ok', firstSequence: first.sequence, count: wanted.length };
  }

  #goIdle(): void {
    this.#state = 'idle';
    this.#ring.length = 0;
    this.#again.clear();
  }

  #tick(nowUs: number): number {
    return Math.floor(this.#hardware.tickAt(nowUs)) % 2 ** 32;
  }
}
