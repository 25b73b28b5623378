import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { encodeControlReply } from '../../src/core/packets/control-codec.ts';
import { LinkTimeout } from '../../src/devices/connection-failure.ts';
import { linkTo, MockSensor, pass } from './mock-sensor.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

async function streamingSensor(info = {}, first = 0) {
  const sensor = new MockSensor(info);
  sensor.next = first;
  const out = linkTo(sensor);
  const started = out.link.start();
  await pass(50);
  await started;
  return { sensor, ...out };
}

const range = (count: number) => Array.from({ length: count }, (_, i) => i);
const sorted = (values: number[]) => [...values].sort((a, b) => a - b);
const outOfReach = () => Promise.reject(new LinkTimeout());

describe('a link that drops', () => {
  it('is shown at once, remade on fresh streams, and what was missed is fetched', async () => {
    const { sensor, states, records, sequences, lost, last } = await streamingSensor();
    await sensor.stream(5);
    const old = sensor.link;
    old.close();
    await pass(0);
    expect(last()).toMatchObject({ state: 'lost', attempt: 1 });
    for (let i = 0; i < 30; i++) sensor.make();
    await pass(400);
    expect(last()).toMatchObject({ state: 'streaming' });
    expect(sensor.links).toHaveLength(2);
    expect(old.notifications$.observed || old.indications$.observed).toBe(false);
    await sensor.stream(5);
    expect(sorted(sequences())).toEqual(range(40));
    expect(lost()).toEqual([]);
    expect(records.filter((r) => r.kind === 'sensor-info')).toHaveLength(2);
    // The second 'streaming' tells the charge.
    const names = ['connecting', 'streaming', 'streaming', 'lost', 'streaming'];
    expect(states.map((s) => s.state)).toEqual(names);
  });

  it('names at once what the ring cannot hold, and fetches the rest', async () => {
    const { sensor, sequences, lost } = await streamingSensor({ resendPackets: 20 });
    await sensor.stream(5);
    sensor.link.close();
    for (let i = 0; i < 50; i++) sensor.make();
    for (let s = 0; s < 35; s++) sensor.kept.delete(s);
    await pass(400);
    expect(lost()).toEqual([[5, 30]]);
    await sensor.stream(3);
    expect(sorted(sequences())).toEqual([0, 1, 2, 3, 4, ...range(58).slice(35)]);
    expect(lost()).toEqual([[5, 30]]);
  });

  it('is sought after 0.25 s doubling to 1 s, after 15 s every 4 s, and failed after a minute', async () => {
    const { sensor, last } = await streamingSensor();
    const lostMs = performance.now();
    sensor.beforeOpen = outOfReach;
    sensor.link.close();
    await pass(90_000);
    const at = sensor.openTimesMs.slice(1).map((ms) => ms - lostMs);
    const apart = at.map((ms, i) => ms - (at[i - 1] ?? 0));
    expect(apart.slice(0, 4)).toEqual([250, 500, 1000, 1000]);
    expect(new Set(apart.filter((_, i) => at[i]! > 2000 && at[i]! < 15_000))).toEqual(
      new Set([1000]),
    );
    expect(new Set(apart.filter((_, i) => at[i]! > 17_000))).toEqual(new Set([4000]));
    expect(at.at(-1)).toBeGreaterThanOrEqual(60_000);
    expect(at.at(-1)).toBeLessThanOrEqual(64_000);
    expect(last()).toMatchObject({ state: 'failed', error: { code: 'timed-out' } });
  });

  it('can be connected again by the coach after it failed, with its books', async () => {
    const { sensor, link, last, lost, sequences } = await streamingSensor({ resendPackets: 30 });
    await sensor.stream(5);
    sensor.beforeOpen = outOfReach;
    sensor.link.close();
    await pass(90_000);
    expect(last().state).toBe('failed');
    for (let i = 0; i < 100; i++) sensor.make();
    sensor.beforeOpen = () => Promise.resolve();
    void link.start();
    await pass(50);
    expect(last().state).toBe('streaming');
    expect(lost()).toEqual([[5, 70]]);
    await sensor.stream(3);
    expect(sorted(sequences())).toEqual([...range(5), ...range(108).slice(75)]);
  });

  it('is tried at once when the coach taps', async () => {
    const { sensor, link, last } = await streamingSensor();
    sensor.beforeOpen = outOfReach;
    sensor.link.close();
    await pass(8000);
    const before = sensor.openTimesMs.length;
    sensor.beforeOpen = () => Promise.resolve();
    await link.start();
    await pass(20);
    expect(sensor.openTimesMs).toHaveLength(before + 1);
    expect(last().state).toBe('streaming');
  });

  it('asks anew, on the new link, for what the old one was asked for', async () => {
    const { sensor, sequences } = await streamingSensor();
    await sensor.stream(3);
    sensor.withheld.add(3).add(4);
    sensor.make();
    sensor.make();
    await sensor.stream(1);
    sensor.link.close();
    await pass(400);
    expect(sorted(sequences())).toEqual(range(6));
  });

  it('leaves nothing running when it is closed while it is down', async () => {
    const { sensor, link, states } = await streamingSensor();
    sensor.beforeOpen = () => new Promise(() => {});
    sensor.link.close();
    await pass(1000);
    const closed = link.close();
    await pass(0);
    await closed;
    const { length } = sensor.openTimesMs;
    await pass(70_000);
    expect(sensor.openTimesMs).toHaveLength(length);
    expect(states.at(-1)!.state).toBe('lost');
  });

  it('says of a sensor without a ring that what it measures meanwhile is lost', async () => {
    const { sensor, last } = await streamingSensor({ resendPackets: 0 });
    sensor.link.close();
    await pass(0);
    expect(last()).toMatchObject({ message: expect.stringContaining('meanwhile is lost') });
  });

  it('does not fail for good over information damaged once', async () => {
    const { sensor, last } = await streamingSensor();
    const { infoBytes } = sensor;
    sensor.infoBytes = infoBytes.map((byte, i) => (i === 20 ? byte ^ 1 : byte));
    sensor.link.close();
    await pass(300);
    expect(last().state).toBe('lost');
    sensor.infoBytes = infoBytes;
    await pass(600);
    expect(last().state).toBe('streaming');
  });
});

describe('a sensor that was switched off and on', () => {
  it('is asked for no phantom gap, even when its numbers happen to lie ahead', async () => {
    const { sensor, sequences, lost } = await streamingSensor({}, 65_000);
    await sensor.stream(100);
    sensor.link.close();
    // begins at 0: only 436 ahead of 65100, but its clock began anew as well
    sensor.next = 0;
    sensor.tickOffset = 2 ** 32 - Math.round(performance.now() * 10);
    await pass(300);
    await sensor.stream(5);
    expect(sequences().slice(-5)).toEqual(range(5));
    expect(sensor.requestsOf('resend')).toEqual([]);
    expect(lost()).toEqual([]);
  });

  it('leaves behind what was still missing: that is said to be lost', async () => {
    const { sensor, lost } = await streamingSensor();
    await sensor.stream(3);
    sensor.make();
    sensor.kept.clear();
    sensor.answer = (request, tag) =>
      request.op === 'resend' ? null : encodeControlReply(sensor.reply(request), tag);
    await sensor.stream(2);
    sensor.link.close();
    sensor.next = 500;
    sensor.tickOffset = 5_000_000;
    await pass(400);
    expect(lost()).toEqual([[3, 1]]);
  });

  it('without its link dropping is started anew, so that nothing is taken for a repeat', async () => {
    const { sensor, sequences, last } = await streamingSensor({}, 40_000);
    await sensor.stream(3);
    sensor.next = 10_000;
    sensor.tickOffset = 77_000_000;
    await sensor.stream(1);
    expect(last().state).toBe('lost');
    await pass(400);
    await sensor.stream(2);
    expect(sequences().slice(-2)).toEqual([10_001, 10_002]);
    expect(last().state).toBe('streaming');
  });
});

describe('a link that is refused at first', () => {
  const refused = () => Promise.reject(new DOMException('busy', 'NetworkError'));

  it('is made a moment later, all the while connecting', async () => {
    const sensor = new MockSensor({});
    let refusals = 2;
    sensor.beforeOpen = () => (refusals-- > 0 ? refused() : Promise.resolve());
    const { link, states } = linkTo(sensor);
    void link.start();
    await pass(2000);
    expect(states.map(({ state }) => state)).toEqual(['connecting', 'streaming', 'streaming']);
  });

  it('has failed after four attempts, within two seconds', async () => {
    const sensor = new MockSensor({});
    let attempts = 0;
    sensor.beforeOpen = () => {
      attempts++;
      return refused();
    };
    const { link, last } = linkTo(sensor);
    void link.start();
    await pass(2000);
    expect(last()).toMatchObject({ state: 'failed', error: { code: 'link-failed' } });
    expect(attempts).toBe(4);
  });

  it('does not keep the coach waiting where no answer came at all', async () => {
    const sensor = new MockSensor({});
    sensor.beforeOpen = outOfReach;
    const { link, last } = linkTo(sensor);
    void link.start();
    await pass(50);
    expect(last()).toMatchObject({ state: 'failed', error: { code: 'timed-out' } });
  });
});
