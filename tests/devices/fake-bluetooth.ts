import { CONTROL_UUID, INFO_UUID, SERVICE_UUID, STREAM_UUID } from '../../src/devices/profile.ts';

type Step = 'connect' | 'service' | 'characteristic' | 'read' | 'write' | 'start' | 'stop';

/** A characteristic object of one connection: dead after it, like a browser's. */
class FakeCharacteristic extends EventTarget {
  readonly uuid: string;
  value: DataView | undefined;
  notifying = false;
  readonly #device: FakeDevice;
  readonly #connection: number;

  constructor(device: FakeDevice, uuid: string) {
    super();
    this.uuid = uuid;
    this.#device = device;
    this.#connection = device.connections;
  }

  #run<T>(step: Step, result: () => T): Promise<T> {
    if (this.#connection !== this.#device.connections) throw new Error('a dead object was used');
    return this.#device.run(step, this.uuid, result);
  }

  readValue(): Promise<DataView> {
    return this.#run('read', () => inWindow(this.#device.values.get(this.uuid)!));
  }

  writeValueWithResponse(bytes: Uint8Array): Promise<void> {
    return this.#run('write', () => void this.#device.written.push(bytes.slice()));
  }

  startNotifications(): Promise<this> {
    return this.#run('start', () => {
      this.notifying = true;
      return this;
    });
  }

  stopNotifications(): Promise<this> {
    return this.#run('stop', () => {
      this.notifying = false;
      return this;
    });
  }

  /** A notification, in a buffer that is used again afterwards. */
  notify(bytes: Uint8Array): void {
    if (!this.notifying) return;
    this.value = inWindow(bytes);
    this.dispatchEvent(new Event('characteristicvaluechanged'));
    new Uint8Array(this.value.buffer).fill(0xee);
  }
}

/** The bytes somewhere inside a larger buffer, as browsers may hand them out. */
function inWindow(bytes: Uint8Array): DataView {
  const buffer = new Uint8Array(bytes.length + 11).fill(0xaa);
  buffer.set(bytes, 5);
  return new DataView(buffer.buffer, 5, bytes.length);
}

/** What a test needs of `BluetoothDevice`, hand-written: one GATT operation at a time, all noted. */
export class FakeDevice extends EventTarget {
  readonly id: string;
  connections = 0;
  isConnected = false;
  forgotten = false;
  readonly written: Uint8Array[] = [];
  readonly steps: string[] = [];
  readonly values = new Map<string, Uint8Array>([[INFO_UUID, Uint8Array.of(1, 2, 3)]]);
  services: string[] = [SERVICE_UUID];
  /** A step that never settles or fails, by name and UUID. */
  hangs: string | null = null;
  fails: string | null = null;
  readonly live = new Map<string, FakeCharacteristic>();
  #running = 0;

  constructor(id: string) {
    super();
    this.id = id;
  }

  async run<T>(step: Step, uuid: string, result: () => T): Promise<T> {
    const name = `${step} ${uuid}`;
    this.steps.push(name);
    if (this.#running > 0) throw new DOMException('already in progress', 'NetworkError');
    this.#running++;
    const connection = this.connections;
    try {
      if (this.hangs === name) await new Promise(() => {});
      await new Promise((resolve) => setTimeout(resolve, 5));
      if (this.fails === name) throw new DOMException(name, 'NetworkError');
      if (step !== 'connect' && (!this.isConnected || connection !== this.connections)) {
        throw new DOMException('disconnected', 'NetworkError');
      }
      return result();
    } finally {
      this.#running = 0;
    }
  }

  readonly gatt = {
    connect: () => {
      return this.run('connect', '', () => {
        this.connections++;
        this.isConnected = true;
        this.live.clear();
        return { getPrimaryService: (uuid: string) => this.#service(uuid) };
      });
    },
    disconnect: () => {
      this.#running = 0;
      if (this.isConnected) this.drop();
    },
  };

  #service(uuid: string) {
    return this.run('service', uuid, () => {
      if (!this.services.includes(uuid)) throw new DOMException('none', 'NotFoundError');
      return {
        getCharacteristic: (name: string) =>
          this.run('characteristic', name, () => {
            const known = [STREAM_UUID, CONTROL_UUID].includes(name) || this.values.has(name);
            if (!known) throw new DOMException('none', 'NotFoundError');
            const characteristic = new FakeCharacteristic(this, name);
            this.live.set(name, characteristic);
            return characteristic;
          }),
      };
    });
  }

  drop(): void {
    this.isConnected = false;
    this.dispatchEvent(new Event('gattserverdisconnected'));
  }

  async forget(): Promise<void> {
    this.forgotten = true;
  }

  asDevice(): BluetoothDevice {
    return this as unknown as BluetoothDevice;
  }
}
