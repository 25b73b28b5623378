import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { ControlStatus } from '../../src/core/packets/control.ts';
import { encodeControlReply, encodeRefusal } from '../../src/core/packets/control-codec.ts';
import { linkTo, MockSensor, pass } from './mock-sensor.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

/** What the coach sees of a sensor that a test has prepared, after so many seconds. */
async function outcome(prepare: (sensor: MockSensor) => void, ms = 5000) {
  const sensor = new MockSensor();
  prepare(sensor);
  const out = linkTo(sensor);
  void out.link.start();
  await pass(ms);
  return { sensor, ...out, state: out.last() };
}

const refusing = (status: ControlStatus) => (sensor: MockSensor) => {
  sensor.answer = (_request, tag) => encodeRefusal(1, tag, status);
};

const telling = (change: (info: Uint8Array) => Uint8Array) => (sensor: MockSensor) => {
  sensor.infoBytes = change(sensor.infoBytes);
};

const answering = (answer: MockSensor['answer']) => (sensor: MockSensor) => {
  sensor.answer = answer;
};

describe('a sensor that misbehaves', () => {
  it.each([
    ['not-our-sensor', telling(() => new Uint8Array(0))],
    ['not-our-sensor', telling((info) => info.slice(0, 30))],
    ['wrong-version', telling((info) => info.with(0, 2))],
    [
      'not-our-sensor',
      (s: MockSensor) => {
        s.beforeOpen = () => Promise.reject(new DOMException('no such service', 'NotFoundError'));
      },
    ],
    ['mtu-too-small', refusing('mtu-too-small')],
    ['did-not-start', refusing('hardware-fault')],
    ['did-not-start', answering(() => null)],
    ['did-not-start', answering(() => Uint8Array.of(1, 2, 3, 4, 5))],
    ['did-not-start', answering(() => new Uint8Array(300).fill(0x81))],
  ])('fails with %s (case %#)', async (code, prepare) => {
    const { state, sensor, records } = await outcome(prepare);
    expect(state).toMatchObject({ state: 'failed', error: { code } });
    expect(sensor.links.every((link) => !link.isOpen)).toBe(true);
    expect(records.filter((record) => record.kind !== 'sensor-info')).toEqual([]);
  });

  it('is told from a coach who sees what helps when the MTU is too small', async () => {
    const { state } = await outcome(refusing('mtu-too-small'));
    expect(state).toMatchObject({
      error: { message: expect.stringContaining('Use another phone, tablet or adapter') },
    });
  });

  it('is let go when it sends more than 400 notifications a second', async () => {
    const { sensor, last, records } = await outcome(() => {}, 100);
    for (let i = 0; i < 300; i++) {
      if (sensor.link.isOpen) for (let n = 0; n < 10; n++) sensor.send(sensor.make());
      await pass(10);
    }
    expect(last()).toMatchObject({ state: 'failed', error: { code: 'too-fast' } });
    expect(records.length).toBeLessThan(1500);
    expect(sensor.links).toHaveLength(1);
  });

  it('is let go when it floods before it answers the start, or floods the answers', async () => {
    for (const where of ['notifications$', 'indications$'] as const) {
      const { sensor, last } = await outcome(
        answering(() => null),
        50,
      );
      for (let i = 0; i < 1000; i++) sensor.link[where].next(new Uint8Array(20));
      await pass(10);
      expect(last()).toMatchObject({ state: 'failed', error: { code: 'too-fast' } });
    }
  });

  it('is not mistaken for one when a page that slept for half a minute gets all at once', async () => {
    const { sensor, last, sequences } = await outcome(() => {}, 30_000);
    for (let i = 0; i < 30 * 40; i++) sensor.send(sensor.make());
    await pass(1000);
    expect(last().state).toBe('streaming');
    expect(sequences()).toHaveLength(1200);
  });

  it('is let go when its numbers leap about', async () => {
    const { sensor, last, records } = await outcome(() => {}, 100);
    for (let i = 0; i < 100; i++) {
      sensor.next = (sensor.next + 20_011) & 0xffff;
      if (sensor.link.isOpen) sensor.send(sensor.make());
      await pass(100);
    }
    expect(last()).toMatchObject({ state: 'failed', error: { code: 'wrong-sequence' } });
    expect(records.length).toBeLessThan(100);
  });

  it('streams on, recorded, when only its answers to pings and resends are garbage', async () => {
    const { sensor, last, sequences, lost } = await outcome(() => {}, 100);
    sensor.answer = () => Uint8Array.of(0x85, 0xff);
    sensor.kept.set = () => sensor.kept;
    await sensor.stream(300, [5]);
    expect(last().state).toBe('streaming');
    expect(sequences()).toHaveLength(299);
    expect(lost()).toEqual([[5, 1]]);
  });

  it('cannot pass the answer to one request off as that to another', async () => {
    const { state } = await outcome((sensor) => {
      sensor.answer = (_request, tag) => encodeControlReply({ op: 'stop', status: 'ok' }, tag);
    });
    expect(state).toMatchObject({ state: 'failed', error: { code: 'did-not-start' } });
  });

  it('may send bytes that are no packets: they are recorded for the pipeline to name', async () => {
    const { sensor, last, sequences } = await outcome(() => {}, 100);
    for (let i = 0; i < 20; i++) {
      sensor.link.notifications$.next(new Uint8Array(i));
      await pass(50);
    }
    expect(sequences()).toEqual(Array(20).fill(-1));
    expect(last().state).toBe('streaming');
  });
});
