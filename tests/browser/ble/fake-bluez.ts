import { once } from 'node:events';
import { Message, type MessageBus, sessionBus, Variant } from '@jellybrick/dbus-next';

export const ADAPTER_PATH = '/org/bluez/hci0';
export const DEVICE = 'org.bluez.Device1';
export const SERVICE = 'org.bluez.GattService1';
export const CHARACTERISTIC = 'org.bluez.GattCharacteristic1';
export const DESCRIPTOR = 'org.bluez.GattDescriptor1';
const ADAPTER = 'org.bluez.Adapter1';
const PROPERTIES = 'org.freedesktop.DBus.Properties';
const OBJECTS = 'org.freedesktop.DBus.ObjectManager';

/** Properties of one interface; D-Bus wants every value with its type. */
export type Properties = Record<string, Variant>;
/** Answers a call: signature and body of the reply. */
export type Method = (body: unknown[]) => Promise<[signature: string, body: unknown[]] | undefined>;

/** A value with its D-Bus type. */
export function typed(signature: string, value: unknown): Variant {
  return new Variant(signature, value);
}

/** An error as BlueZ names it. */
export class BluezError extends Error {
  readonly dbusName: string;

  constructor(dbusName: string, message: string) {
    super(message);
    this.dbusName = dbusName;
  }
}

/**
 * What Chromium takes for BlueZ, on a bus of our own: one adapter, and objects with properties and methods.
 * Only what Chromium asks for is there (BlueZ D-Bus API, doc/org.bluez.*.rst).
 */
export class FakeBluez {
  readonly #bus: MessageBus;
  readonly #objects = new Map<string, Record<string, Properties>>();
  readonly #methods = new Map<string, Record<string, Method>>();
  readonly #scanListeners = new Set<(scanning: boolean) => void>();

  private constructor(bus: MessageBus) {
    this.#bus = bus;
  }

  static async start(address: string): Promise<FakeBluez> {
    const bus = sessionBus({ busAddress: address });
    const fake = new FakeBluez(bus);
    bus.addMethodHandler((message: Message) => {
      void fake.#reply(message);
      return true;
    });
    await once(bus, 'connect');
    fake.#objects.set('/org/bluez', { 'org.bluez.AgentManager1': {} });
    fake.#objects.set(ADAPTER_PATH, {
      [ADAPTER]: {
        Address: typed('s', '00:11:22:33:44:55'),
        Name: typed('s', 'emulated'),
        Alias: typed('s', 'emulated'),
        Class: typed('u', 0),
        Powered: typed('b', true),
        Discoverable: typed('b', false),
        Pairable: typed('b', true),
        Discovering: typed('b', false),
        UUIDs: typed('as', []),
      },
    });
    const scan =
      (scanning: boolean): Method =>
      async () => {
        fake.set(ADAPTER_PATH, ADAPTER, { Discovering: typed('b', scanning) });
        for (const listener of fake.#scanListeners) listener(scanning);
        return undefined;
      };
    fake.#methods.set(ADAPTER_PATH, {
      SetDiscoveryFilter: async () => undefined,
      StartDiscovery: scan(true),
      StopDiscovery: scan(false),
    });
    await bus.requestName('org.bluez', 0);
    return fake;
  }

  stop(): void {
    for (const listener of this.#scanListeners) listener(false);
    this.#bus.disconnect();
  }

  onScan(listener: (scanning: boolean) => void): void {
    this.#scanListeners.add(listener);
  }

  add(
    path: string,
    interfaces: Record<string, Properties>,
    methods: Record<string, Method> = {},
  ): void {
    this.#objects.set(path, interfaces);
    this.#methods.set(path, methods);
    this.#signal('/', OBJECTS, 'InterfacesAdded', 'oa{sa{sv}}', [path, interfaces]);
  }

  /** Changes properties and says so. */
  set(path: string, face: string, changed: Properties): void {
    const properties = this.#objects.get(path)?.[face];
    if (properties !== undefined) Object.assign(properties, changed);
    this.announce(path, face, changed);
  }

  /** Says that properties changed, without keeping them: how a notification travels. */
  announce(path: string, face: string, changed: Properties): void {
    this.#signal(path, PROPERTIES, 'PropertiesChanged', 'sa{sv}as', [face, changed, []]);
  }

  #signal(path: string, face: string, name: string, signature: string, body: unknown[]): void {
    this.#bus.send(Message.newSignal(path, face, name, signature, body));
  }

  async #reply(message: Message): Promise<void> {
    try {
      const [signature, body] = (await this.#call(message)) ?? ['', []];
      this.#bus.send(Message.newMethodReturn(message, signature, body));
    } catch (error) {
      const name = error instanceof BluezError ? error.dbusName : 'org.bluez.Error.Failed';
      this.#bus.send(Message.newError(message, name, String(error)));
    }
  }

  async #call(message: Message): Promise<[string, unknown[]] | undefined> {
    const { path = '', member = '', body } = message;
    if (member === 'GetManagedObjects') {
      return ['a{oa{sa{sv}}}', [Object.fromEntries(this.#objects)]];
    }
    if (message.interface === PROPERTIES) {
      return this.#property(path, member, body);
    }
    const method = this.#methods.get(path)?.[member];
    if (method !== undefined) return method(body);
    // Registering an agent and the like just succeeds.
    if (path === '/org/bluez') return undefined;
    throw new BluezError('org.freedesktop.DBus.Error.UnknownMethod', `no ${member} at ${path}`);
  }

  #property(path: string, member: string, body: unknown[]): [string, unknown[]] | undefined {
    const [face, name, value] = body as [string, string, Variant];
    const properties = this.#objects.get(path)?.[face];
    if (properties === undefined) {
      throw new BluezError('org.freedesktop.DBus.Error.UnknownInterface', `no ${face} at ${path}`);
    }
    if (member === 'GetAll') return ['a{sv}', [properties]];
    if (member === 'Get') return ['v', [properties[name]]];
    this.set(path, face, { [name]: value });
    return undefined;
  }
}
