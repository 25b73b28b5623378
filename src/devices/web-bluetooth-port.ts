import { Subject } from 'rxjs';
import { GattQueue, type RunGatt } from './gatt-queue.ts';
import { CONTROL_UUID, INFO_UUID, SERVICE_UUID, STREAM_UUID } from './profile.ts';
import type { OpenPort, SensorPort } from './sensor-port.ts';
import { readBattery, readDeviceWords } from './standard-services.ts';

/** `connect()` of some Bluetooth stacks never settles. */
const CONNECT_TIMEOUT_MS = 12_000;
/** One read, write or discovery. */
const OPERATION_TIMEOUT_MS = 6_000;

/** A sensor behind Web Bluetooth. */
export function createWebBluetoothPort(device: BluetoothDevice): SensorPort {
  let wasOpen = false;
  return {
    id: device.id,
    open: async (abandoned) => {
      const open = await openPort(device, abandoned, wasOpen);
      wasOpen = true;
      return open;
    },
    forget: async () => {
      if ('forget' in device) await device.forget();
    },
  };
}

/** One connection of the device: its queue and streams, ended together. */
class Connection {
  readonly notifications = new Subject<Uint8Array>();
  readonly indications = new Subject<Uint8Array>();
  readonly ended: Promise<void>;
  readonly #device: BluetoothDevice;
  readonly #queue = new GattQueue();
  #end: () => void = () => {};

  constructor(device: BluetoothDevice) {
    this.#device = device;
    this.ended = new Promise((resolve) => {
      this.#end = resolve;
    });
    device.addEventListener('gattserverdisconnected', this.#lost);
  }

  readonly #lost = (): void => {
    this.#device.removeEventListener('gattserverdisconnected', this.#lost);
    this.#queue.end();
    this.notifications.complete();
    this.indications.complete();
    this.#end();
  };

  readonly run: RunGatt = (operation) => this.#queue.run(OPERATION_TIMEOUT_MS, operation);

  connect(gatt: BluetoothRemoteGATTServer): Promise<BluetoothRemoteGATTServer> {
    return this.#queue.run(CONNECT_TIMEOUT_MS, () => gatt.connect());
  }

  /** Also ends an attempt to connect that does not settle. */
  readonly close = (): void => {
    this.#device.gatt?.disconnect();
    this.#lost();
  };
}

async function openPort(
  device: BluetoothDevice,
  abandoned: AbortSignal,
  isAgain: boolean,
): Promise<OpenPort> {
  abandoned.throwIfAborted();
  const { gatt } = device;
  if (gatt === undefined) throw new DOMException('no GATT on this device', 'NotSupportedError');
  const connection = new Connection(device);
  const { run, notifications, indications, ended, close } = connection;
  abandoned.addEventListener('abort', close);
  try {
    // Objects of an earlier connection are dead: everything is found anew.
    const server = await connection.connect(gatt);
    const service = await run(() => server.getPrimaryService(SERVICE_UUID));
    const info = await run(() => service.getCharacteristic(INFO_UUID));
    const stream = await run(() => service.getCharacteristic(STREAM_UUID));
    const control = await run(() => service.getCharacteristic(CONTROL_UUID));
    const infoBytes = copyOf(await run(() => info.readValue()));
    const deviceWords = await readDeviceWords(server, run);
    await subscribe(control, indications, run, isAgain);
    await subscribe(stream, notifications, run, isAgain);
    return {
      info: infoBytes,
      deviceWords,
      readBattery: () => readBattery(server, run),
      notifications$: notifications.asObservable(),
      indications$: indications.asObservable(),
      writeControl: (bytes) =>
        run(() => control.writeValueWithResponse(bytes as Uint8Array<ArrayBuffer>)),
      ended,
      close,
    };
  } catch (reason) {
    close();
    throw reason;
  } finally {
    abandoned.removeEventListener('abort', close);
  }
}

async function subscribe(
  characteristic: BluetoothRemoteGATTCharacteristic,
  values: Subject<Uint8Array>,
  run: RunGatt,
  isAgain: boolean,
): Promise<void> {
  characteristic.addEventListener('characteristicvaluechanged', () => {
    // Read and copied at once: the browser may reuse the view after the handler.
    if (characteristic.value !== undefined) values.next(copyOf(characteristic.value));
  });
  if (isAgain) {
    // Some stacks still count the subscription of the dead object and would not subscribe the new one.
    await run(() => characteristic.stopNotifications()).catch(() => {
      // Nothing was left over.
    });
  }
  await run(() => characteristic.startNotifications());
}

/** Own bytes: the view is a window into a buffer of the browser's. */
function copyOf(value: DataView): Uint8Array {
  return new Uint8Array(value.buffer, value.byteOffset, value.byteLength).slice();
}
