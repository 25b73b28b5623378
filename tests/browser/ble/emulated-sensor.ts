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

/** What is wrong with one emulated sensor; nothing by default. */
export interface SensorFaults {
  /** Share of notifications withheld. */
  readonly withheld?: number;
  readonly mtu?: number;
  readonly isDeaf?: boolean;
  readonly serviceUuid?: string;
  /** Changes the value of *info*, or every notification; several come out as several. */
  readonly spoilInfo?: (bytes: Uint8Array) => Uint8Array;
  readonly spoil?: (bytes: Uint8Array) => readonly Uint8Array[];
}

/** When the virtual player begins, by performance.now(); null while he waits. One for all three sensors. */
export interface PlayerClock {
  startedMs: number | null;
}

const BATTERY_SERVICE = '0000180f-0000-1000-8000-00805f9b34fb';
const BATTERY_LEVEL = '00002a19-0000-1000-8000-00805f9b34fb';
const BATTERY_PERCENT = 73;
/** The radio takes notifications in bursts like this, ms. */
const INTERVAL_MS = 15;

/** A sensor of ours behind emulated radio: the simulator's firmware, in real time. */
export class EmulatedSensor {
  readonly firmware: VirtualFirmware;
  readonly peripheral: EmulatedPeripheral;
  /** Samples as they were made while streaming or holding, by sequence. */
  readonly made = new Map<number, Int16Array>();
  readonly #clock: PlayerClock;
  readonly #timer: ReturnType<typeof setInterval>;

  constructor(
    bluez: FakeBluez,
    name: string,
    address: string,
    hardware: FirmwareHardware,
    clock: PlayerClock,
    faults: SensorFaults,
  ) {
    this.#clock = clock;
    this.firmware = new VirtualFirmware({ ...hardware, packets: this.#noting(hardware) });
    const random = seededRandom(name.length + address.charCodeAt(address.length - 1));
    const plan: PeripheralPlan = {
      address,
      name,
      services: [
        {
          uuid: faults.serviceUuid ?? SERVICE_UUID,
          characteristics: [
            { uuid: STREAM_UUID, flags: ['notify'] },
            {
              uuid: CONTROL_UUID,
              flags: ['write', 'indicate'],
              write: (bytes) => {
                if (faults.isDeaf) return;
                const answer = this.firmware.onRequest(bytes, this.#nowUs());
                // Indicated at the next connection interval.
                setTimeout(() => this.peripheral.notify(CONTROL_UUID, answer), INTERVAL_MS / 2);
              },
            },
            {
              uuid: INFO_UUID,
              flags: ['read'],
              read: () => {
                const bytes = encodeSensorInfo(hardware.info);
                return faults.spoilInfo?.(bytes) ?? bytes;
              },
            },
          ],
        },
        {
          uuid: BATTERY_SERVICE,
          characteristics: [
            { uuid: BATTERY_LEVEL, flags: ['read'], read: () => Uint8Array.of(BATTERY_PERCENT) },
          ],
        },
      ],
      onConnect: () => this.firmware.linkUp(faults.mtu ?? 247),
      onDisconnect: () => this.firmware.linkLost(this.#nowUs()),
    };
    this.peripheral = new EmulatedPeripheral(bluez, plan);
    this.#timer = setInterval(() => {
      for (const bytes of this.firmware.advance(this.#nowUs())) {
        if (random.uniform(0, 1) < (faults.withheld ?? 0)) continue;
        for (const value of faults.spoil?.(bytes) ?? [bytes]) {
          this.peripheral.notify(STREAM_UUID, value);
        }
      }
    }, INTERVAL_MS);
  }

  /** Out of reach for a while, then back. */
  async dropFor(ms: number): Promise<void> {
    this.peripheral.outOfReach = true;
    this.peripheral.disconnect();
    await new Promise((resolve) => setTimeout(resolve, ms));
    this.peripheral.outOfReach = false;
  }

  get isBlinking(): boolean {
    return this.firmware.isBlinking(this.#nowUs());
  }

  stop(): void {
    clearInterval(this.#timer);
    this.peripheral.disconnect();
  }

  #nowUs(): number {
    const { startedMs } = this.#clock;
    return startedMs === null ? 0 : (performance.now() - startedMs) * 1000;
  }

  *#noting(hardware: FirmwareHardware): Generator<MadePacket, void, void> {
    for (let next = hardware.packets.next(); !next.done; next = hardware.packets.next()) {
      this.made.set(next.value.packet.sequence, next.value.packet.samples);
      yield next.value;
    }
  }
}
