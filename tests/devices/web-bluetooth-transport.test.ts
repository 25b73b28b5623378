import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { PerSegment } from '../../src/core/arm/segments.ts';
import { createSensorPlaces } from '../../src/devices/sensor-places.ts';
import type { ConnectionState } from '../../src/devices/transport.ts';
import { createWebBluetoothTransport } from '../../src/devices/web-bluetooth-transport.ts';
import { FakeDevice } from './fake-bluetooth.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

const pass = (ms: number) => vi.advanceTimersByTimeAsync(ms);

function fakeStorage(): Storage {
  const kept = new Map<string, string>();
  return {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, value: string) => void kept.set(key, value),
  } as Storage;
}

function transportOver(storage: Storage, chosen: FakeDevice[], known: FakeDevice[] | null) {
  const bluetooth = {
    requestDevice: async () => chosen.shift()!.asDevice(),
    ...(known === null ? {} : { getDevices: async () => known.map((one) => one.asDevice()) }),
  } as unknown as Bluetooth;
  const transport = createWebBluetoothTransport(
    bluetooth,
    createSensorPlaces(() => storage),
  );
  let states: PerSegment<ConnectionState> | null = null;
  transport.connections$.subscribe((all) => {
    states = all;
  });
  return { transport, words: () => Object.values(states ?? {}).map((state) => state.state) };
}

describe('the Web Bluetooth transport', () => {
  it('makes no link before the timeline begins', async () => {
    const device = new FakeDevice('a');
    const { transport } = transportOver(fakeStorage(), [device], null);
    void transport.connect('forearm');
    await pass(1000);
    expect(device.steps).toEqual([]);
    transport.startTimeline();
    await pass(1000);
    expect(device.steps[0]).toBe('connect ');
  });

  it('links the sensors of last time by itself, each in its place, unless they were forgotten', async () => {
    const storage = fakeStorage();
    const [a, b] = [new FakeDevice('a'), new FakeDevice('b')];
    const first = transportOver(storage, [a, b], null);
    first.transport.startTimeline();
    void first.transport.connect('upperArm');
    void first.transport.connect('implement');
    await pass(100);
    void first.transport.forget('upperArm');
    await pass(5000);
    expect(a.forgotten).toBe(true);
    void first.transport.close();
    await pass(5000);
    const second = transportOver(storage, [], [a, b]);
    second.transport.startTimeline();
    await pass(1);
    expect(second.words()).toEqual(['absent', 'absent', 'connecting']);
  });

  it('does without when the browser remembers nothing or refuses', async () => {
    const storage = fakeStorage();
    createSensorPlaces(() => storage).keep('forearm', 'gone');
    const { transport, words } = transportOver(storage, [], [new FakeDevice('a')]);
    transport.startTimeline();
    await pass(100);
    expect(words()).toEqual(['absent', 'absent', 'absent']);
  });
});

describe('sensor places', () => {
  it('give one sensor one place', () => {
    const storage = fakeStorage();
    const places = createSensorPlaces(() => storage);
    places.keep('forearm', 'x');
    places.keep('implement', 'x');
    places.keep('upperArm', 'y');
    expect(places.deviceId('forearm')).toBeNull();
    expect(createSensorPlaces(() => storage).deviceId('implement')).toBe('x');
    places.drop('implement');
    expect(places.deviceId('implement')).toBeNull();
    expect(places.deviceId('upperArm')).toBe('y');
  });

  it('are empty where storage is forbidden or holds something else', () => {
    const forbidden = createSensorPlaces(() => {
      throw new DOMException('no', 'SecurityError');
    });
    forbidden.keep('forearm', 'x');
    expect(forbidden.deviceId('forearm')).toBeNull();
    for (const text of ['{', 'null', '[1]', '{"forearm":7}', '"x"']) {
      const odd = createSensorPlaces(() => ({ getItem: () => text }) as unknown as Storage);
      expect(odd.deviceId('forearm')).toBeNull();
    }
  });
});
