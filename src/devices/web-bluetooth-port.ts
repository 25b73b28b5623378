import { Subject } from 'rxjs';
import { GattQueue } from './gatt-queue.ts';
import { CONTROL_UUID, INFO_UUID, SERVICE_UUID, STREAM_UUID } from './profile.ts';
import type { OpenPort, SensorPort } from './sensor-port.ts';

/** `connect()` of some Bluetooth stacks never settles. */
const CONNECT_TIMEOUT_MS = 12_000;
/** One read, write or discovery. */
const OPERATION_TIMEOUT_MS = 6_000;

/** Standard services that may stand beside ours; a page must name them before it may read them. */
export const OPTIONAL_SERVICES: readonly string[] = ['battery_service'];

/** A sensor behind Web Bluetooth. */
export function createWebBluetoothPort(device: BluetoothDevice): SensorPort {
  return {
    id: device.id,
    open: () => openPort(device),
    forget: async () => {
      if ('forget' in device) await device.forget();
    },
  };
}

async function openPort(device: BluetoothDevice): Promise<OpenPort> {
  const { gatt } = device;
  if (gatt === undefined) throw new DOMException('no GATT on this device', 'NotSupportedError');
  const queue = new GattQueue();
  const run = <T>(operation: () => Promise<T>) => queue.run(OPERATION_TIMEOUT_MS, operation);
  const notifications = new Subject<Uint8Array>();
  const indications = new Subject<Uint8Array>();
  let end: () => void = () => {};
  const ended = new Promise<void>((resolve) => {
    end = resolve;
  });
  const onLost = (): void => {
    device.removeEventListener('gattserverdisconnected', onLost);
    notifications.complete();
    indications.complete();
    end();
  };
  device.addEventListener('gattserverdisconnected', onLost);
  try {
    // Objects of an earlier connection are dead: everything is found anew.
    const server = await queue.run(CONNECT_TIMEOUT_MS, () => gatt.connect());
    const service = await run(() => server.getPrimaryService(SERVICE_UUID));
    const info = await run(() => service.getCharacteristic(INFO_UUID));
    const stream = await run(() => service.getCharacteristic(STREAM_UUID));
    const control = await run(() => service.getCharacteristic(CONTROL_UUID));
    const infoBytes = copyOf(await run(() => info.readValue()));
    const batteryPercent = await readBattery(server, run);
    await subscribe(control, indications, run);
    await subscribe(stream, notifications, run);
    return {
      info: infoBytes,
      batteryPercent,
      notifications$: notifications.asObservable(),
      indications$: indications.asObservable(),
      writeControl: (bytes) =>
        run(() => control.writeValueWithResponse(bytes as Uint8Array<ArrayBuffer>)),
      ended,
      close: () => {
        gatt.disconnect();
        onLost();
      },
    };
  } catch (reason) {
    gatt.disconnect();
    onLost();
    throw reason;
  }
}

type Run = <T>(operation: () => Promise<T>) => Promise<T>;

async function subscribe(
  characteristic: BluetoothRemoteGATTCharacteristic,
  values: Subject<Uint8Array>,
  run: Run,
): Promise<void> {
  characteristic.addEventListener('characteristicvaluechanged', () => {
    // Read and copied at once: the browser may reuse the view after the handler.
    if (characteristic.value !== undefined) values.next(copyOf(characteristic.value));
  });
  await run(() => characteristic.startNotifications());
}

/** Percent, or null: the battery service is optional and never a reason not to connect. */
async function readBattery(server: BluetoothRemoteGATTServer, run: Run): Promise<number | null> {
  try {
    const service = await run(() => server.getPrimaryService('battery_service'));
    const level = await run(() => service.getCharacteristic('battery_level'));
    return (await run(() => level.readValue())).getUint8(0);
  } catch {
    return null;
  }
}

/** Own bytes: the view is a window into a buffer of the browser's. */
function copyOf(value: DataView): Uint8Array {
  return new Uint8Array(value.buffer, value.byteOffset, value.byteLength).slice();
}
