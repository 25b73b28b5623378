import type { RunGatt } from './gatt-queue.ts';

/** Standard services that may stand beside ours; a page must name them before it may read them. */
export const OPTIONAL_SERVICES = ['battery_service', 'device_information'] as const;

/** Longer words of a maker are cut: they come from outside. */
const LONGEST_WORD = 40;

/** Percent, or null when the sensor does not tell: never a reason not to connect. */
export async function readBattery(
  server: BluetoothRemoteGATTServer,
  run: RunGatt,
): Promise<number | null> {
  try {
    const service = await run(() => server.getPrimaryService('battery_service'));
    const level = await run(() => service.getCharacteristic('battery_level'));
    const percent = (await run(() => level.readValue())).getUint8(0);
    return percent <= 100 ? percent : null;
  } catch {
    return null;
  }
}

/** Firmware and hardware in the maker's words, or null when the sensor does not tell. */
export async function readDeviceWords(
  server: BluetoothRemoteGATTServer,
  run: RunGatt,
): Promise<string | null> {
  try {
    const service = await run(() => server.getPrimaryService('device_information'));
    const firmware = await readWord(service, 'firmware_revision_string', run);
    const hardware = await readWord(service, 'hardware_revision_string', run);
    const words = [firmware && `firmware ${firmware}`, hardware && `hardware ${hardware}`];
    return words.filter(Boolean).join(', ') || null;
  } catch {
    return null;
  }
}

async function readWord(
  service: BluetoothRemoteGATTService,
  name: BluetoothCharacteristicUUID,
  run: RunGatt,
): Promise<string> {
  try {
    const characteristic = await run(() => service.getCharacteristic(name));
    const value = await run(() => characteristic.readValue());
    return new TextDecoder().decode(value).replaceAll('\0', '').trim().slice(0, LONGEST_WORD);
  } catch {
    return '';
  }
}
