import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { linkTo, MockSensor, pass } from './mock-sensor.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

async function streamingSensor(first = 0, info = {}) {
  const sensor = new MockSensor(info);
  sensor.next = first;
  const out = linkTo(sensor);
  const started = out.link.start();
  await pass(50);
  await started;
  return { sensor, ...out };
}

const range = (first: number, count: number) =>
  Array.from({ length: count }, (_, i) => (first + i) & 0xffff);
const sorted = (values: number[]) => [...values].sort((a, b) => a - b);

describe('a sensor link', () => {
  it('says who the sensor is, starts it and hands on what comes', async () => {
    const { sensor, records, states, sequences } = await streamingSensor(7);
    await sensor.stream(4);
    expect(records[0]).toMatchObject({ kind: 'sensor-info', segment: 'forearm' });
    expect(sequences()).toEqual([7, 8, 9, 10]);
    expect(states).toEqual([
      { state: 'connecting' },
      { state: 'streaming', batteryPercent: null, deviceWords: null },
      { state: 'streaming', batteryPercent: 55, deviceWords: null },
    ]);
  });

  it('reads the battery every minute', async () => {
    const { sensor, states } = await streamingSensor();
    sensor.link.batteryPercent = 9;
    await pass(59_000);
    expect(states.at(-1)).toMatchObject({ batteryPercent: 55 });
    await pass(1_000);
    expect(states.at(-1)).toMatchObject({ state: 'streaming', batteryPercent: 9 });
  });

  it('finds the first packet missing from the answer to the start', async () => {
    const { sensor, sequences } = await streamingSensor(7);
    await sensor.stream(3, [0]);
    expect(sequences()).toEqual([8, 7, 9]);
  });

  it('keeps packets that overtake the answer to the start', async () => {
    const sensor = new MockSensor();
    const out = linkTo(sensor);
    void out.link.start();
    await pass(5);
    sensor.answer = () => null;
    sensor.send(sensor.make());
    expect(out.sequences()).toEqual([]);
    await pass(50);
    expect(out.sequences()).toEqual([0]);
  });

  it('asks for a gap over the wrap in one run', async () => {
    const { sensor, sequences, lost } = await streamingSensor(65533);
    await sensor.stream(8, [1, 2, 3, 4]);
    expect(sensor.requestsOf('resend')).toEqual([{ op: 'resend', firstSequence: 65534, count: 4 }]);
    expect(sorted(sequences())).toEqual(sorted(range(65533, 8)));
    expect(lost()).toEqual([]);
  });

  it('asks again, a second later, only for what a resent run lacked', async () => {
    const { sensor, sequences } = await streamingSensor();
    sensor.withheld.add(3);
    await sensor.stream(10, [2, 3, 4]);
    expect(sequences()).not.toContain(3);
    await sensor.stream(30);
    expect(sensor.requestsOf('resend')).toEqual([
      { op: 'resend', firstSequence: 2, count: 3 },
      { op: 'resend', firstSequence: 3, count: 1 },
    ]);
    expect(sorted(sequences())).toEqual(range(0, 40));
  });

  it('asks five times, then says that the packet is lost, once', async () => {
    const { sensor, sequences, lost } = await streamingSensor();
    sensor.answer = (request, tag) =>
      request.op === 'resend' ? null : new MockSensor().answer(request, tag);
    sensor.kept.set = () => sensor.kept;
    await sensor.stream(200, [2]);
    expect(sensor.requestsOf('resend')).toHaveLength(5);
    expect(lost()).toEqual([[2, 1]]);
    expect(sequences()).toHaveLength(199);
  });

  it('says at once what the sensor no longer has', async () => {
    const { sensor, sequences, lost } = await streamingSensor();
    await sensor.stream(1);
    const [a, b, c] = [sensor.make(), sensor.make(), sensor.make()];
    for (const { sequence } of [a, b]) sensor.kept.delete(sequence);
    await sensor.stream(5);
    expect(lost()).toEqual([[1, 2]]);
    expect(sequences()).toContain(c.sequence);
    const gone = sensor.make();
    sensor.kept.delete(gone.sequence);
    await sensor.stream(5);
    expect(lost()).toEqual([
      [1, 2],
      [gone.sequence, 1],
    ]);
    expect(sensor.requestsOf('resend')).toHaveLength(2);
  });

  it('says at once what a sensor without a ring did not bring', async () => {
    const { sensor, sequences, lost } = await streamingSensor(0, { resendPackets: 0 });
    await sensor.stream(6, [2, 3]);
    expect(lost()).toEqual([[2, 2]]);
    expect(sequences()).toEqual([0, 1, 4, 5]);
    expect(sensor.requestsOf('resend')).toEqual([]);
  });

  it('hands a repeated packet on once', async () => {
    const { sensor, sequences } = await streamingSensor();
    for (let i = 0; i < 3; i++) {
      const packet = sensor.make();
      sensor.send(packet);
      sensor.send(packet);
      sensor.send({ ...packet, resent: true });
      await pass(50);
    }
    expect(sequences()).toEqual([0, 1, 2]);
  });

  it('records a damaged packet and asks for it', async () => {
    const { sensor, sequences } = await streamingSensor();
    await sensor.stream(1);
    sensor.make();
    sensor.link.notifications$.next(Uint8Array.from({ length: 28 }, () => 1));
    await sensor.stream(2);
    expect(sequences()).toEqual([0, -1, 2, 1, 3]);
  });

  it('asks for much in a few runs, oldest first, no more than 64 packets at one time', async () => {
    const { sensor, sequences, lost } = await streamingSensor(0, { resendPackets: 300 });
    await sensor.stream(1);
    for (let i = 0; i < 200; i++) sensor.make();
    await sensor.stream(20);
    const runs = sensor.requestsOf('resend');
    expect(runs.length).toBeLessThanOrEqual(8);
    expect(Math.max(...runs.map((run) => run.count))).toBeLessThanOrEqual(64);
    const asked = runs.flatMap((run) => range(run.firstSequence, run.count));
    expect(asked).toEqual(range(1, 200));
    expect(sorted(sequences())).toEqual(range(0, 221));
    expect(lost()).toEqual([]);
  });

  it('asks for gaps close to each other in one run', async () => {
    const { sensor, sequences } = await streamingSensor();
    await sensor.stream(1);
    const made = Array.from({ length: 10 }, () => sensor.make());
    // while the answer to an earlier request is out, gaps gather
    for (const place of [3, 6, 9]) sensor.send(made[place]!);
    await sensor.stream(2);
    expect(sensor.requestsOf('resend').length).toBeLessThanOrEqual(3);
    expect(sorted(sequences())).toEqual(range(0, 13));
  });

  it('finds what was lost with nothing after it, when a live sensor falls silent', async () => {
    const { sensor, sequences, lost } = await streamingSensor(65_530);
    await sensor.stream(3);
    for (let i = 0; i < 20; i++) {
      sensor.make();
      await pass(50);
    }
    await pass(400);
    expect(sorted(sequences())).toEqual(sorted(range(65_530, 23)));
    expect(lost()).toEqual([]);
  });

  it('finds the last packets of a set before it stops the sensor', async () => {
    const { sensor, link, sequences } = await streamingSensor();
    await sensor.stream(10, [8, 9]);
    const closed = link.close();
    await pass(2000);
    await closed;
    expect(sorted(sequences())).toEqual(range(0, 10));
    expect(sensor.requests.at(-1)).toEqual({ op: 'stop' });
  });

  it('pings often in the first eight seconds or so, then every second', async () => {
    const { sensor, records } = await streamingSensor();
    await pass(20_000);
    const times = sensor.requestTimesMs.filter((_, i) => sensor.requests[i]!.op === 'ping');
    const apart = times.slice(1).map((time, i) => time - times[i]!);
    for (const ms of apart.slice(0, 79)) expect(ms).toBeLessThanOrEqual(200);
    // looked at every 100 ms
    for (const ms of apart.slice(79)) expect(Math.abs(ms - 1000)).toBeLessThanOrEqual(100);
    // eighty in the first eight seconds, one in each of the twelve that are left
    expect(times.length).toBe(92);
    const pings = records.flatMap((r) =>
      r.kind === 'event' && r.event.type === 'clock-ping' ? [{ ...r.event, at: r.hostTimeUs }] : [],
    );
    expect(pings).toHaveLength(92);
    // the mock answers 10 ms after the write, with its tick at the write
    for (const { at, sentTimeUs } of pings) expect(at - sentTimeUs).toBe(10_000);
    expect(pings[0]!.tick).toBe(pings[0]!.sentTimeUs / 100);
  });

  it('lets what is under way come in at the end, and names the rest', async () => {
    const { sensor, link, sequences, lost, records } = await streamingSensor();
    await sensor.stream(20, [12]);
    sensor.withheld.add(20).add(21);
    sensor.make();
    sensor.make();
    sensor.send(sensor.make());
    await pass(20);
    sensor.kept.clear();
    sensor.answer = () => null;
    const closed = link.close();
    await pass(3000);
    await closed;
    expect(sequences()).toContain(12);
    expect(lost()).toEqual([[20, 2]]);
    expect(sensor.requestsOf('stop')).toHaveLength(1);
    expect(sensor.link.isOpen).toBe(false);
    const before = records.length;
    await pass(10_000);
    expect(records).toHaveLength(before);
  });
});
