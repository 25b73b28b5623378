import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { CONTROL_UUID, INFO_UUID, SERVICE_UUID, STREAM_UUID } from '../../src/devices/profile.ts';
import type { OpenPort } from '../../src/devices/sensor-port.ts';
import { createWebBluetoothPort } from '../../src/devices/web-bluetooth-port.ts';
import { FakeDevice } from './fake-bluetooth.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

const pass = (ms: number) => vi.advanceTimersByTimeAsync(ms);
const wanted = () => new AbortController().signal;

async function opened(device: FakeDevice, port = createWebBluetoothPort(device.asDevice())) {
  const opening = port.open(wanted());
  await pass(200);
  return { port, open: await opening };
}

/** Name of the reason for which an opening failed, within so many milliseconds. */
async function failure(opening: Promise<OpenPort>, ms: number): Promise<string> {
  const outcome = opening.then(
    () => 'opened',
    (reason: Error) => reason.name,
  );
  await pass(ms);
  return Promise.race([outcome, Promise.resolve('not settled')]);
}

describe('a port over Web Bluetooth', () => {
  it('hands on own copies of just the bytes of a notification', async () => {
    const device = new FakeDevice('a');
    const { open } = await opened(device);
    const stream: Uint8Array[] = [];
    const control: Uint8Array[] = [];
    open.notifications$.subscribe((bytes) => stream.push(bytes));
    open.indications$.subscribe((bytes) => control.push(bytes));
    device.live.get(STREAM_UUID)!.notify(Uint8Array.of(1, 2, 3));
    device.live.get(STREAM_UUID)!.notify(Uint8Array.of(4));
    device.live.get(CONTROL_UUID)!.notify(Uint8Array.of(5, 6));
    expect(stream).toEqual([Uint8Array.of(1, 2, 3), Uint8Array.of(4)]);
    expect(control).toEqual([Uint8Array.of(5, 6)]);
    expect(open.info).toEqual(Uint8Array.of(1, 2, 3));
  });

  it('takes fresh objects for each connection, and stops before it starts on the new ones', async () => {
    const device = new FakeDevice('a');
    const { port, open } = await opened(device);
    const old = device.live.get(STREAM_UUID)!;
    const ended = vi.fn();
    open.notifications$.subscribe({ complete: ended });
    device.drop();
    await open.ended;
    expect(ended).toHaveBeenCalledOnce();
    device.steps.length = 0;
    const { open: again } = await opened(device, port);
    expect(device.live.get(STREAM_UUID)).not.toBe(old);
    const [stop, start] = ['stop', 'start'].map((step) =>
      device.steps.indexOf(`${step} ${STREAM_UUID}`),
    );
    expect(stop).toBeGreaterThan(0);
    expect(start).toBeGreaterThan(stop!);
    const seen: Uint8Array[] = [];
    again.notifications$.subscribe((bytes) => seen.push(bytes));
    old.notify(Uint8Array.of(9));
    device.live.get(STREAM_UUID)!.notify(Uint8Array.of(1));
    expect(seen).toEqual([Uint8Array.of(1)]);
  });

  it('subscribes the answers before the stream, and does not stop what never ran', async () => {
    const device = new FakeDevice('a');
    await opened(device);
    const order = device.steps.filter((step) => /^(start|stop)/.test(step));
    expect(order).toEqual([`start ${CONTROL_UUID}`, `start ${STREAM_UUID}`]);
  });

  it('goes on when nothing is left to stop', async () => {
    const device = new FakeDevice('a');
    const { port } = await opened(device);
    device.drop();
    device.fails = `stop ${STREAM_UUID}`;
    const { open } = await opened(device, port);
    expect(open.info.length).toBe(3);
  });

  it('writes one after the other', async () => {
    const device = new FakeDevice('a');
    const { open } = await opened(device);
    const writes = [1, 2, 3].map((n) => open.writeControl(Uint8Array.of(n)));
    await pass(100);
    await Promise.all(writes);
    expect(device.written.map((bytes) => bytes[0])).toEqual([1, 2, 3]);
  });

  it('rejects what is written when the link is gone', async () => {
    const device = new FakeDevice('a');
    const { open } = await opened(device);
    const writing = open.writeControl(Uint8Array.of(1));
    const outcome = expect(writing).rejects.toThrow();
    await pass(1);
    device.drop();
    await outcome;
    await expect(open.writeControl(Uint8Array.of(2))).rejects.toThrow();
  });

  it('gives up and disconnects when connecting never settles, and can be tried again', async () => {
    const device = new FakeDevice('a');
    const port = createWebBluetoothPort(device.asDevice());
    const disconnect = vi.spyOn(device.gatt, 'disconnect');
    device.hangs = 'connect ';
    expect(await failure(port.open(wanted()), 12_000)).toBe('LinkTimeout');
    expect(disconnect).toHaveBeenCalled();
    device.hangs = null;
    const { open } = await opened(device, port);
    expect(open.info.length).toBe(3);
  });

  it.each([
    `service ${SERVICE_UUID}`,
    `read ${INFO_UUID}`,
    `start ${CONTROL_UUID}`,
    `start ${STREAM_UUID}`,
  ])('lets the device go when "%s" never settles or fails', async (step) => {
    const device = new FakeDevice('a');
    const port = createWebBluetoothPort(device.asDevice());
    device.hangs = step;
    expect(await failure(port.open(wanted()), 7000)).toBe('LinkTimeout');
    expect(device.isConnected).toBe(false);
    device.hangs = null;
    device.fails = step;
    expect(await failure(port.open(wanted()), 500)).toBe('NetworkError');
    expect(device.isConnected).toBe(false);
  });

  it('gives up at once when it is wanted no longer or the link drops meanwhile', async () => {
    const device = new FakeDevice('a');
    const port = createWebBluetoothPort(device.asDevice());
    device.hangs = 'connect ';
    const abandoned = new AbortController();
    const opening = port.open(abandoned.signal);
    await pass(1000);
    abandoned.abort();
    expect(await failure(opening, 0)).toBe('LinkEnded');
    device.hangs = `read ${INFO_UUID}`;
    const second = port.open(wanted());
    second.catch(() => {});
    await pass(1000);
    device.drop();
    expect(await failure(second, 0)).toBe('LinkEnded');
  });

  it('says that a device without our service has none', async () => {
    const device = new FakeDevice('a');
    device.services = [];
    const port = createWebBluetoothPort(device.asDevice());
    expect(await failure(port.open(wanted()), 500)).toBe('NotFoundError');
  });

  /** Operations of the fake take a while. */
  async function batteryOf(open: OpenPort): Promise<number | null> {
    const reading = open.readBattery();
    await pass(500);
    return reading;
  }

  it('reads battery and maker where they are, and does without', async () => {
    const device = new FakeDevice('a');
    const { open } = await opened(device);
    expect([await batteryOf(open), open.deviceWords]).toEqual([null, null]);
    const other = new FakeDevice('b');
    other.services.push('battery_service', 'device_information');
    other.values.set('battery_level', Uint8Array.of(64));
    other.values.set('hardware_revision_string', new TextEncoder().encode('rev C\0'));
    const { open: telling } = await opened(other);
    expect([await batteryOf(telling), telling.deviceWords]).toEqual([64, 'hardware rev C']);
    other.values.set('battery_level', Uint8Array.of(255));
    other.values.set('firmware_revision_string', new TextEncoder().encode('1.2'));
    other.drop();
    const { open: again } = await opened(other);
    expect([await batteryOf(again), again.deviceWords]).toEqual([
      null,
      'firmware 1.2, hardware rev C',
    ]);
  });
});
