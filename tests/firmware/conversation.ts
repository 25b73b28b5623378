import { type Random, seededRandom } from '../../src/core/maths/random.ts';
import type { ControlRequest } from '../../src/core/packets/control.ts';
import { decodeControlReply, encodeControlRequest } from '../../src/core/packets/control-codec.ts';
import { encodeSensorInfo, type SensorInfo } from '../../src/core/packets/sensor-info.ts';
import type { MadePacket } from '../../src/core/simulator/sample-stream.ts';
import { VirtualFirmware } from '../../src/core/simulator/virtual-firmware.ts';
import { toHex, valuesHex } from './c-host.ts';

/**
 * A random conversation with the program's VirtualFirmware, and the commands that hold the same one with
 * the C sensor over the same samples.
 *
 * The part gives twelve samples at a time, 60 ms apart, and every MTU lets a packet hold all of them or a
 * divisor: VirtualFirmware splits what the part made, C fills from sample to sample, and only then are both
 * cut at the same places. Notifications are taken before anything happens, and after it until none is due.
 */
export interface Conversation {
  readonly commands: readonly string[];
  readonly steps: readonly Step[];
}

/** Answers and notifications of VirtualFirmware, and which lines of C's output hold the same. */
export interface Step {
  readonly what: string;
  readonly lines: readonly number[];
  readonly expected: readonly string[];
}

export interface Options {
  readonly seed: number;
  /** 0 for a sensor without a ring. */
  readonly ring: number;
  readonly hasMagnetometer: boolean;
  /** Samples that the part lost and values that clip; then without stops and drops beyond 60 s. */
  readonly hasGaps: boolean;
  readonly events: number;
}

const SAMPLES = 12;
const INTERVAL_US = 5000;
/** Its counter runs at 1 MHz and wraps in the first minute. */
const FIRST_TICK = 2 ** 32 - 30e6;
/** Packets of 3, 4, 6 and 12 samples; the first two are refused. */
const MTUS = [23, 64, 65, 66, 67, 78, 91, 102, 163, 247, 517];
const MTUS_WITH_MAGNETOMETER = [23, 64, 65, 72, 73, 84, 97, 108, 169, 247, 517];
const QUEUE = 20;

const chance = (random: Random, probability: number) => random.uniform(0, 1) < probability;
const whole = (random: Random, low: number, high: number) =>
  Math.floor(random.uniform(low, high + 1));
const pick = <T>(random: Random, from: readonly T[]): T => from[whole(random, 0, from.length - 1)]!;

const tickAt = (us: number) => (FIRST_TICK + us) % 2 ** 32;

function infoOf(ring: number, hasMagnetometer: boolean): SensorInfo {
  return {
    protocolVersion: 1,
    serial: '0102030405060708',
    firmwareVersion: '1.0.0',
    tickHz: 1_000_000,
    rateHz: 200,
    supportedRatesHz: [100, 200, 400],
    gyroRangeDegS: 2000,
    accelRangeG: 16,
    gyroScaleRadS: Math.fround(0.001),
    accelScaleMS2: Math.fround(0.005),
    resendPackets: ring,
    magnetometerScaleT: hasMagnetometer ? Math.fround(1.5e-7) : null,
  };
}

/** What the part makes, without end; each packet is also put into `copies`. */
function* partPackets(
  options: Options,
  random: Random,
  copies: MadePacket[],
): Generator<MadePacket, void, void> {
  // Packets take a stretch of these: quicker than drawing each value.
  const values = Int16Array.from({ length: 4096 }, () => whole(random, -32766, 32766));
  let sequence = whole(random, 0, 0xffff);
  let firstUs = 1000;
  for (;;) {
    // Not before the first start: bit 1 is 0 in the first packet after it.
    const dropped = chance(random, 0.05);
    if (dropped) firstUs += whole(random, 1, 30) * INTERVAL_US;
    const from = whole(random, 0, values.length - 6 * SAMPLES);
    const samples = values.slice(from, from + 6 * SAMPLES);
    const clipped = chance(random, 0.1);
    if (clipped) samples[whole(random, 0, 71)] = pick(random, [32767, -32767, -32768]);
    const spanTicks = (SAMPLES - 1) * INTERVAL_US;
    // In every packet: VirtualFirmware keeps room only in those that have one, C in all.
    const magnetometer = options.hasMagnetometer
      ? Int16Array.from({ length: 3 }, () => whole(random, -32768, 32767))
      : null;
    const firstTick = tickAt(firstUs);
    const made = {
      madeUs: firstUs + spanTicks,
      packet: {
        clipped,
        dropped,
        resent: false,
        sequence,
        firstTick,
        spanTicks,
        samples,
        magnetometer,
      },
    };
    copies.push(made);
    yield made;
    sequence = (sequence + 1) & 0xffff;
    firstUs += SAMPLES * INTERVAL_US;
  }
}

class Talk {
  readonly commands: string[] = [];
  readonly steps: Step[] = [];
  readonly #options: Options;
  readonly #random: Random;
  readonly #firmware: VirtualFirmware;
  /** What VirtualFirmware took from the part and C has not been given. */
  readonly #made: MadePacket[] = [];
  #nowUs = 0;
  /** C has let time pass up to here, so as to send what was asked for again. */
  #drainedUs = 0;
  #nextSequence = 0;
  #linkMtu: number | null = null;
  #isStarted = false;

  constructor(options: Options) {
    this.#options = options;
    const { seed, ring, hasMagnetometer } = options;
    this.#random = seededRandom(seed);
    const info = infoOf(ring, hasMagnetometer);
    const packets = partPackets(options, seededRandom(-seed), this.#made);
    this.#firmware = new VirtualFirmware({ info, packets, tickAt: (us) => FIRST_TICK + us });
    const shape = `${ring || QUEUE} ${SAMPLES} 1000000 200`;
    this.#say(`sensor ${shape} ${Number(hasMagnetometer)} ${Number(ring > 0)}`);
    this.#step('info', [this.#say('read-info')], [toHex(encodeSensorInfo(info))]);
  }

  hold(): void {
    this.#linkUp();
    this.#at(500_000);
    this.#request({ op: 'start' });
    this.#takeDue('after the first start');
    for (let i = 0; i < this.#options.events; i++) {
      this.#at(this.#drainedUs + 777 + Math.round(10 ** this.#random.uniform(3, 6.3)));
      if (this.#linkMtu === null) this.#linkUp();
      else if (chance(this.#random, 0.15)) this.#loseLink();
      else this.#someRequests();
      this.#takeDue(`after event ${i}`);
    }
  }

  get #mtus(): readonly number[] {
    return this.#options.hasMagnetometer ? MTUS_WITH_MAGNETOMETER : MTUS;
  }

  #say(command: string): number {
    return this.commands.push(command) - 1;
  }

  #step(what: string, lines: number[], expected: string[]): void {
    this.steps.push({ what: `${what} at ${this.#nowUs} us`, lines, expected });
  }

  /** Lets both live up to a time. */
  #at(us: number): void {
    this.#nowUs = us;
    const expected = this.#firmware.advance(us).map(toHex);
    const lines: number[] = [];
    // VirtualFirmware is one packet ahead.
    while (this.#made[0]!.madeUs <= us) {
      const { madeUs, packet } = this.#made.shift()!;
      this.#say(`time ${tickAt(Math.max(madeUs, this.#drainedUs))}`);
      const words = [packet.firstTick, INTERVAL_US, valuesHex(packet.samples)];
      this.#say(`samples ${[...words, ...(packet.magnetometer ?? [])].join(' ')}`);
      lines.push(this.#say('fetch'));
    }
    this.#step('new packets', lines, expected);
    this.#say(`time ${tickAt(us)}`);
    this.#say('poll');
  }

  #takeDue(what: string): void {
    const packets = this.#firmware.advance(this.#nowUs);
    this.#step(`packets ${what}`, [this.#say('drain')], packets.map(toHex));
    this.#drainedUs = this.#nowUs + 5000 * (packets.length + 1);
  }

  #linkUp(): void {
    const isFirst = this.commands.length < 5;
    this.#setMtu(pick(this.#random, isFirst ? this.#mtus.slice(2) : this.#mtus));
  }

  #setMtu(mtu: number): void {
    this.#linkMtu = mtu;
    this.#firmware.linkUp(mtu);
    this.#say(`link-up ${mtu}`);
  }

  #loseLink(): void {
    this.#linkMtu = null;
    this.#isStarted = false;
    this.#firmware.linkLost(this.#nowUs);
    this.#say('link-lost');
    const isLong = !this.#options.hasGaps && chance(this.#random, 0.15);
    const downS = isLong ? this.#random.uniform(61, 70) : 10 ** this.#random.uniform(-1, 1.2);
    this.#drainedUs = this.#nowUs + Math.round(1e6 * downS);
    this.#takeDue('of a lost link');
    this.#at(this.#drainedUs + 777);
  }

  #someRequests(): void {
    if (chance(this.#random, 0.1)) {
      // The MTU of a link only grows.
      this.#setMtu(Math.max(this.#linkMtu!, pick(this.#random, this.#mtus)));
    }
    const count = whole(this.#random, 1, 2);
    for (let i = 0; i < count; i++) {
      if (chance(this.#random, 0.08)) this.#write(this.#garbage());
      else this.#request(this.#someRequest());
    }
  }

  #garbage(): Uint8Array {
    const length = whole(this.#random, 0, 20);
    return Uint8Array.from({ length }, (_, i) => whole(this.#random, 0, i === 0 ? 8 : 255));
  }

  #someRequest(): ControlRequest {
    const random = this.#random;
    const kind = random.uniform(0, 1);
    if (kind < 0.15 || (!this.#isStarted && chance(random, 0.5))) return { op: 'start' };
    if (kind < 0.35) return { op: 'ping' };
    if (kind < 0.4) return { op: 'identify', seconds: whole(random, 0, 255) };
    if (kind < 0.48) {
      const [rateHz, gyroRangeDegS, accelRangeG] = [pick(random, [200, 200, 123]), 2000, 16];
      return { op: 'configure', rateHz, gyroRangeDegS, accelRangeG };
    }
    if (kind < 0.55 && !this.#options.hasGaps) return { op: 'stop' };
    const back = whole(random, -5, Math.round(1.5 * this.#options.ring + 5));
    const firstSequence = (this.#nextSequence - back) & 0xffff;
    const count = pick(random, [1, 2, 5, whole(random, 1, 80), 0x7fff]);
    return { op: 'resend', firstSequence, count };
  }

  #request(request: ControlRequest): void {
    this.#write(encodeControlRequest(request, whole(this.#random, 0, 255)));
  }

  #write(bytes: Uint8Array): void {
    const answer = this.#firmware.onRequest(bytes, this.#nowUs);
    const decoded = decodeControlReply(answer);
    if (decoded.ok && decoded.reply.op === 'stop') this.#isStarted = false;
    if (decoded.ok && decoded.reply.op === 'start' && decoded.reply.status === 'ok') {
      this.#isStarted = true;
      this.#nextSequence = decoded.reply.nextSequence;
      // From idle a sequence may begin with any number: with the same.
      this.#say(`sequence ${this.#nextSequence}`);
    }
    this.#say(`write ${toHex(bytes)}`);
    this.#step(`answer to ${toHex(bytes)}`, [this.#say('answers')], [toHex(answer)]);
  }
}

export function converse(options: Options): Conversation {
  const talk = new Talk(options);
  talk.hold();
  return { commands: talk.commands, steps: talk.steps };
}
