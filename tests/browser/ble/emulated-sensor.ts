import { seededRandom } from '../../../src/core/maths/random.ts';
import { encodeSensorInfo } from '../../../src/core/packets/sensor-info.ts';
import type { MadePacket } from '../../../src/core/simulator/sample-stream.ts';
import {
  type FirmwareHardware,
  VirtualFirmware,
} from '../../../src/core/simulator/virtual-firmware.ts';
import {
  CONTROL_UUID,
  INFO_UUID,
  SERVICE_UUID,
  STREAM_UUID,
} from '../../../src/devices/profile.ts';
import { EmulatedPeripheral, type PeripheralPlan } from './emulated-peripheral.ts';
import type { FakeBluez } from './fake-bluez.ts';

/** SPEC.md, "Control". */
const START_OPCODE = 1;

/** How one emulated sensor differs from a good one; in nothing by default. */
export interface SensorTraits {
  /** Share of notifications withheld; of one packet at most twice, because five asks are promised, not endless ones. */
  readonly withheld?: number;
  /** Packets it can send again. */
  readonly ringPackets?: number;
  readonly batteryPercent?: number;
  /** Of the service it really has; it advertises ours all the same. */
  readonly serviceUuid?: string;
  /** Changes the value of *info*, or every notification; several come out as several. */
  readonly spoilInfo?: (bytes: Uint8Array) => Uint8Array;
  readonly spoil?: (bytes: Uint8Array) => readonly Uint8Array[];
}

/** When the virtual player begins, by performance.now(); null while he waits. One for all sensors of a set. */
export interface PlayerClock {
  startedMs: number | null;
}

/** The player's own time, microseconds: 0 while he waits. */
export function playerNowUs({ startedMs }: PlayerClock): number {
  return startedMs === null ? 0 : (performance.now() - startedMs) * 1000;
}

const BATTERY_SERVICE = '0000180f-0000-1000-8000-00805f9b34fb';
const BATTERY_LEVEL = '00002a19-0000-1000-8000-00805f9b34fb';
const BATTERY_PERCENT = 73;
const MTU = 247;
const MOST_WITHHELD = 2;
/** The radio takes notifications in bursts like this, ms. */
const INTERVAL_MS = 15;

/** A sensor of ours behind emulated radio: the simulator's firmware, in real time. */
export class EmulatedSensor {
  readonly name: string;
  readonly firmware: VirtualFirmware;
  readonly peripheral: EmulatedPeripheral;
  /** Packets in the order they were made, by sequence, from the first start on; `madeUs` by the player's clock. */
  readonly made = new Map<number, MadePacket>();
  /** Times that a packet was withheld, by sequence. */
  readonly withheld = new Map<number, number>();
  readonly #traits: SensorTraits;
  readonly #clock: PlayerClock;
  readonly #timer: ReturnType<typeof setInterval>;
  readonly #handedOver = new Set<number>();
  #wasStarted = false;
  #isRunningDry = false;

  constructor(
    bluez: FakeBluez,
    name: string,
    address: string,
    hardware: FirmwareHardware,
    clock: PlayerClock,
    traits: SensorTraits,
  ) {
    this.name = name;
    this.#clock = clock;
    this.#traits = traits;
    const { info } = hardware;
    this.firmware = new VirtualFirmware({
      ...hardware,
      info: { ...info, resendPackets: traits.ringPackets ?? info.resendPackets },
      packets: this.#part(hardware),
    });
    this.peripheral = new EmulatedPeripheral(bluez, this.#plan(name, address));
    this.#timer = setInterval(() => this.#work(), INTERVAL_MS);
  }

  /** Its unchanging name of 16 hex digits. */
  get serial(): string {
    return this.firmware.info.serial;
  }

  get isBlinking(): boolean {
    return this.firmware.isBlinking(this.#nowUs());
  }

  async untilMade(packets: number): Promise<void> {
    while (this.made.size < packets) await pause();
  }

  /**
   * Makes no packet after the one it is at, and waits until all that was made, or so many of the newest, was
   * handed to a listening browser: nothing of it is in the air any more. It still sends again what is asked for.
   * @throws Error when the browser does not ask for what it missed
   */
  async untilHandedOver(newest = Number.POSITIVE_INFINITY): Promise<void> {
    this.#isRunningDry = true;
    const missing = () =>
      [...this.made.keys()].slice(-newest).filter((sequence) => !this.#handedOver.has(sequence));
    const giveUpMs = performance.now() + 20_000;
    while (!this.firmware.isOver || missing().length > 0) {
      if (performance.now() > giveUpMs) {
        throw new Error(`${this.name} was not asked again for ${missing().join(', ')}`);
      }
      await pause();
    }
  }

  /** Out of reach for a while, then back. */
  async dropFor(ms: number): Promise<void> {
    this.peripheral.outOfReach = true;
    this.peripheral.disconnect();
    await new Promise((resolve) => setTimeout(resolve, ms));
    this.peripheral.outOfReach = false;
  }

  stop(): void {
    clearInterval(this.#timer);
    this.peripheral.disconnect();
  }

  #nowUs(): number {
    return playerNowUs(this.#clock);
  }

  /** The part's packets; one counts as made when the firmware comes for the next. */
  *#part(hardware: FirmwareHardware): Generator<MadePacket, void, void> {
    while (!this.#isRunningDry) {
      const next = hardware.packets.next();
      if (next.done) return;
      yield next.value;
      if (this.#wasStarted) this.made.set(next.value.packet.sequence, next.value);
    }
  }

  #work(): void {
    for (const bytes of this.firmware.advance(this.#nowUs())) {
      if (this.#isWithheld(sequenceOf(bytes))) continue;
      for (const value of this.#traits.spoil?.(bytes) ?? [bytes]) {
        if (this.peripheral.notify(STREAM_UUID, value)) this.#handedOver.add(sequenceOf(value));
      }
    }
  }

  /** Decided by the packet and by how often it was sent alone: the same in every run. */
  #isWithheld(sequence: number): boolean {
    const times = this.withheld.get(sequence) ?? 0;
    if (times >= MOST_WITHHELD || this.#handedOver.has(sequence)) return false;
    const random = seededRandom(sequence * MOST_WITHHELD + times);
    if (random.uniform(0, 1) >= (this.#traits.withheld ?? 0)) return false;
    this.withheld.set(sequence, times + 1);
    return true;
  }

  #plan(name: string, address: string): PeripheralPlan {
    const { serviceUuid, spoilInfo, batteryPercent } = this.#traits;
    const readInfo = () => {
      const bytes = encodeSensorInfo(this.firmware.info);
      return spoilInfo?.(bytes) ?? bytes;
    };
    const battery = Uint8Array.of(batteryPercent ?? BATTERY_PERCENT);
    return {
      address,
      name,
      advertisedUuid: SERVICE_UUID,
      services: [
        {
          uuid: serviceUuid ?? SERVICE_UUID,
          characteristics: [
            { uuid: STREAM_UUID, flags: ['notify'] },
            {
              uuid: CONTROL_UUID,
              flags: ['write', 'indicate'],
              write: (bytes) => this.#hear(bytes),
            },
            { uuid: INFO_UUID, flags: ['read'], read: readInfo },
          ],
        },
        {
          uuid: BATTERY_SERVICE,
          characteristics: [{ uuid: BATTERY_LEVEL, flags: ['read'], read: () => battery }],
        },
      ],
      onConnect: () => this.firmware.linkUp(MTU),
      onDisconnect: () => this.firmware.linkLost(this.#nowUs()),
    };
  }

  #hear(bytes: Uint8Array): void {
    const answer = this.firmware.onRequest(bytes, this.#nowUs());
    if (bytes[0] === START_OPCODE) this.#wasStarted = true;
    // Indicated at the next connection interval.
    setTimeout(() => this.peripheral.notify(CONTROL_UUID, answer), INTERVAL_MS / 2);
  }
}

function pause(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, 50));
}

/** SPEC.md, "Stream packet". */
function sequenceOf(bytes: Uint8Array): number {
  return new DataView(bytes.buffer).getUint16(2, true);
}
