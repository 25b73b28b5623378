import {
  ADAPTER_PATH,
  BluezError,
  CHARACTERISTIC,
  DESCRIPTOR,
  DEVICE,
  type FakeBluez,
  type Method,
  SERVICE,
  typed,
} from './fake-bluez.ts';

/** One characteristic of an emulated peripheral. */
export interface CharacteristicPlan {
  readonly uuid: string;
  readonly flags: readonly ('read' | 'write' | 'notify' | 'indicate')[];
  readonly read?: () => Uint8Array;
  readonly write?: (bytes: Uint8Array) => void;
}

export interface ServicePlan {
  readonly uuid: string;
  readonly characteristics: readonly CharacteristicPlan[];
}

export interface PeripheralPlan {
  readonly address: string;
  readonly name: string;
  /** Of the service by which the chooser finds it. */
  readonly advertisedUuid: string;
  readonly services: readonly ServicePlan[];
  readonly onConnect?: () => void;
  readonly onDisconnect?: () => void;
}

/** How often an advertising device is seen anew: the chooser lists only what changes while it scans. */
const ADVERTISE_MS = 100;

/** A Bluetooth LE peripheral as BlueZ would show it. */
export class EmulatedPeripheral {
  readonly #bluez: FakeBluez;
  readonly #plan: PeripheralPlan;
  readonly #path: string;
  readonly #characteristics = new Map<string, { path: string; notifying: boolean }>();
  #connected = false;
  #exposed = false;
  /** While true the device can be neither seen nor connected. */
  outOfReach = false;

  constructor(bluez: FakeBluez, plan: PeripheralPlan) {
    this.#bluez = bluez;
    this.#plan = plan;
    this.#path = `${ADAPTER_PATH}/dev_${plan.address.replaceAll(':', '_')}`;
    const properties = {
      Address: typed('s', plan.address),
      AddressType: typed('s', 'random'),
      Name: typed('s', plan.name),
      Alias: typed('s', plan.name),
      Adapter: typed('o', ADAPTER_PATH),
      Paired: typed('b', false),
      Trusted: typed('b', false),
      Blocked: typed('b', false),
      LegacyPairing: typed('b', false),
      Connected: typed('b', false),
      ServicesResolved: typed('b', false),
      UUIDs: typed('as', [plan.advertisedUuid]),
      RSSI: typed('n', -50),
    };
    bluez.add(
      this.#path,
      { [DEVICE]: properties },
      {
        Connect: async () => this.#connect(),
        Disconnect: async () => this.disconnect(),
      },
    );
    this.#advertise();
  }

  get isConnected(): boolean {
    return this.#connected;
  }

  /** Sends a value to a subscriber; false when nobody listens. */
  notify(uuid: string, bytes: Uint8Array): boolean {
    const entry = this.#characteristics.get(uuid);
    if (!this.#connected || !entry?.notifying) return false;
    this.#bluez.announce(entry.path, CHARACTERISTIC, { Value: typed('ay', Buffer.from(bytes)) });
    return true;
  }

  /** The link drops, or the page let go. */
  disconnect(): undefined {
    if (!this.#connected) return;
    this.#connected = false;
    // Left true, Chromium would skip subscribing after a reconnect and feed the old objects.
    for (const entry of this.#characteristics.values()) this.#setNotifying(entry, false);
    this.#bluez.set(this.#path, DEVICE, {
      ServicesResolved: typed('b', false),
      Connected: typed('b', false),
    });
    this.#plan.onDisconnect?.();
  }

  #advertise(): void {
    let timer: ReturnType<typeof setInterval> | undefined;
    const seen = (): void => {
      if (this.outOfReach || this.#connected) return;
      const strength = -50 - Math.floor(9 * ((performance.now() / 977) % 1));
      this.#bluez.set(this.#path, DEVICE, { RSSI: typed('n', strength) });
    };
    this.#bluez.onScan((scanning) => {
      clearInterval(timer);
      if (scanning) timer = setInterval(seen, ADVERTISE_MS);
    });
  }

  #connect(): undefined {
    if (this.outOfReach) {
      throw new BluezError('org.bluez.Error.Failed', 'le-connection-abort-by-local');
    }
    if (!this.#exposed) this.#expose();
    this.#connected = true;
    this.#bluez.set(this.#path, DEVICE, { Connected: typed('b', true) });
    this.#bluez.set(this.#path, DEVICE, { ServicesResolved: typed('b', true) });
    this.#plan.onConnect?.();
  }

  #expose(): void {
    this.#exposed = true;
    let handle = 0x10;
    const next = () => (handle++).toString(16).padStart(4, '0');
    for (const service of this.#plan.services) {
      const servicePath = `${this.#path}/service${next()}`;
      this.#bluez.add(servicePath, {
        [SERVICE]: {
          UUID: typed('s', service.uuid),
          Device: typed('o', this.#path),
          Primary: typed('b', true),
          Includes: typed('ao', []),
        },
      });
      for (const plan of service.characteristics) {
        const path = `${servicePath}/char${next()}`;
        this.#addCharacteristic(servicePath, path, plan);
        if (!plan.flags.includes('notify') && !plan.flags.includes('indicate')) continue;
        // Chromium does not subscribe without the client configuration descriptor.
        this.#bluez.add(`${path}/desc${next()}`, {
          [DESCRIPTOR]: {
            UUID: typed('s', '00002902-0000-1000-8000-00805f9b34fb'),
            Characteristic: typed('o', path),
            Value: typed('ay', Buffer.alloc(2)),
          },
        });
      }
    }
  }

  #addCharacteristic(servicePath: string, path: string, plan: CharacteristicPlan): void {
    const entry = { path, notifying: false };
    this.#characteristics.set(plan.uuid, entry);
    const methods: Record<string, Method> = {
      StartNotify: async () => this.#setNotifying(entry, true),
      StopNotify: async () => this.#setNotifying(entry, false),
      ReadValue: async () => {
        const value = Buffer.from(plan.read?.() ?? []);
        // Chromium counts on this change: without it the next notification is swallowed.
        this.#bluez.set(path, CHARACTERISTIC, { Value: typed('ay', value) });
        return ['ay', [value]];
      },
      WriteValue: async ([value]) => {
        if (!this.#connected) throw new BluezError('org.bluez.Error.NotConnected', 'Not connected');
        plan.write?.(new Uint8Array(value as Buffer));
        return undefined;
      },
    };
    const properties = {
      UUID: typed('s', plan.uuid),
      Service: typed('o', servicePath),
      Value: typed('ay', Buffer.alloc(0)),
      Notifying: typed('b', false),
      Flags: typed('as', [...plan.flags]),
    };
    this.#bluez.add(path, { [CHARACTERISTIC]: properties }, methods);
  }

  #setNotifying(entry: { path: string; notifying: boolean }, notifying: boolean): undefined {
    entry.notifying = notifying;
    this.#bluez.set(entry.path, CHARACTERISTIC, { Notifying: typed('b', notifying) });
  }
}
