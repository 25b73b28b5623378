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

const deviceCalled = (id: string): BluetoothDevice => new FakeDevice(id).asDevice();

function transportOver(
  storage: Storage,
  chosen: FakeDevice[],
  known: FakeDevice[] | null,
  places = createSensorPlaces(() => storage),
) {
  const bluetooth = {
    requestDevice: async () => chosen.shift()!.asDevice(),
    ...(known === null ? {} : { getDevices: async () => known.map((one) => one.asDevice()) }),
  } as unknown as Bluetooth;
  const transport = createWebBluetoothTransport(bluetooth, places);
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

  it('links the sensors chosen on this page for the next set, in a browser that gives none back', async () => {
    const storage = fakeStorage();
    const places = createSensorPlaces(() => storage);
    const a = new FakeDevice('a');
    const first = transportOver(storage, [a], null, places);
    first.transport.startTimeline();
    void first.transport.connect('upperArm');
    await pass(100);
    void first.transport.close();
    await pass(5000);
    const second = transportOver(storage, [], null, places);
    expect(second.words()).toEqual(['absent', 'absent', 'absent']);
    second.transport.startTimeline();
    await pass(1);
    expect(second.words()).toEqual(['connecting', 'absent', 'absent']);
  });

  it('does without when the browser remembers nothing or refuses', async () => {
    const storage = fakeStorage();
    createSensorPlaces(() => storage).keep('forearm', deviceCalled('gone'));
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
    places.keep('forearm', deviceCalled('x'));
    places.keep('implement', deviceCalled('x'));
    places.keep('upperArm', deviceCalled('y'));
    expect(places.deviceId('forearm')).toBeNull();
    expect(places.device('forearm')).toBeNull();
    expect(places.device('implement')?.id).toBe('x');
    expect(createSensorPlaces(() => storage).deviceId('implement')).toBe('x');
    places.drop('implement');
    expect(places.deviceId('implement')).toBeNull();
    expect(places.deviceId('upperArm')).toBe('y');
  });

  it('are empty where storage is forbidden or holds something else', () => {
    const forbidden = createSensorPlaces(() => {
      throw new DOMException('no', 'SecurityError');
    });
    forbidden.keep('forearm', deviceCalled('x'));
    expect(forbidden.deviceId('forearm')).toBeNull();
    for (const text of ['{', 'null', '[1]', '{"forearm":7}', '"x"']) {
      const odd = createSensorPlaces(() => ({ getItem: () => text }) as unknown as Storage);
      expect(odd.deviceId('forearm')).toBeNull();
    }
  });
});
