import { expect, it } from 'vitest';
import { decodeSensorInfo } from '../../src/core/packets/sensor-info.ts';
import { decodeStreamPacket, type StreamPacket } from '../../src/core/packets/stream-packet.ts';
import { type CHost, describeWithC, valuesHex } from './c-host.ts';

// What SPEC.md says of a sensor, by the numbers of its text. The counter runs at 1 MHz: ticks are microseconds.
const S = 1_000_000;
const MS = 1000;
const INTERVAL = 5 * MS;

const sensor = ({ packets = 20, samples = 10, magnetometer = 0, resends = 1 } = {}) =>
  `sensor ${packets} ${samples} ${S} 200 ${magnetometer} ${resends}`;

/** `count` samples from a tick on; each value is the sample's number, from `value` on. */
function samples(tick: number, count: number, value = 0, interval = INTERVAL): string {
  const values = Array.from({ length: 6 * count }, (_, i) => value + Math.floor(i / 6));
  return `samples ${tick} ${interval} ${valuesHex(values)}`;
}

const hexOf = (value: number, bytes: number) => {
  const buffer = Buffer.alloc(bytes);
  buffer.writeUIntLE(value, 0, bytes);
  return buffer.toString('hex');
};

/** A request with tag 0, and its answer's line. */
const ask = (hex: string) => [`write ${hex.slice(0, 2)}00${hex.slice(2)}`, 'answers'];
const START = ask('01');
const STOP = ask('02');
const configure = (rateHz: number, gyroRange: number, accelRange: number) =>
  ask(`03${hexOf(rateHz, 2)}${hexOf(gyroRange, 2)}${hexOf(accelRange, 2)}`);
const identify = (seconds: number) => ask(`04${hexOf(seconds, 1)}`);
const resend = (first: number, count: number) => ask(`06${hexOf(first, 2)}${hexOf(count, 2)}`);
const started = (mtu = 247) => [`link-up ${mtu}`, ...START];

function packetOf(hex: string): StreamPacket {
  const decoded = decodeStreamPacket(Buffer.from(hex, 'hex'));
  if (!decoded.ok) throw new Error(decoded.fault.message);
  return decoded.packet;
}

/** What the driver printed, by kind, in order. */
function play(host: CHost, commands: readonly string[]) {
  const lines = host.run(['time 0', ...commands]);
  const wordsOf = (kind: string) =>
    lines.filter((line) => line.startsWith(kind)).map((line) => line.split(' ').slice(1));
  const fetches = wordsOf('packets').map((words) => words.map(packetOf));
  return {
    lines,
    /** Status of each answer. */
    statuses: wordsOf('answers').flatMap((words) => words.map((hex) => Number(hex.slice(4, 6)))),
    answers: wordsOf('answers').flat(),
    fetches,
    packets: fetches.flat(),
    states: lines.filter((line) => /^(idle|streaming|holding) /.test(line)),
  };
}

const sequencesOf = (packets: readonly StreamPacket[]) => packets.map(({ sequence }) => sequence);
const countsOf = (packets: readonly StreamPacket[]) =>
  packets.map(({ samples: values }) => values.length / 6);
const droppedOf = (packets: readonly StreamPacket[]) => packets.map(({ dropped }) => dropped);

describeWithC('the C sensor', (host) => {
  it('fills packets from sample to sample, first tick and span as measured', () => {
    const { packets } = play(host, [
      sensor(),
      ...started(),
      samples(2 ** 32 - 20_000, 20, 0, 5100),
      'fetch',
    ]);
    expect(packets).toMatchObject([
      { sequence: 0, firstTick: 2 ** 32 - 20_000, spanTicks: 9 * 5100 },
      { sequence: 1, firstTick: 10 * 5100 - 20_000, spanTicks: 9 * 5100 },
    ]);
    expect(Array.from(packets[1]!.samples.subarray(0, 7))).toEqual([10, 10, 10, 10, 10, 10, 11]);
  });

  it.each([0, 1])('fits every MTU and loses no sample, magnetometer %i', (magnetometer) => {
    const mtus = [...Array.from({ length: 200 }, (_, i) => 65 + i), 498, 499, 505, 511, 517];
    const { fetches } = play(
      host,
      mtus.flatMap((mtu) => [
        sensor({ packets: 40, samples: 40, magnetometer }),
        'time 0',
        ...started(mtu),
        `${samples(0, 85, 0, 100)}${magnetometer ? ' 1 2 3' : ''}`,
        'time 200000',
        'poll',
        'fetch',
      ]),
    );
    mtus.forEach((mtu, i) => {
      const packets = fetches[i]!;
      // SPEC.md, "Packet size": (MTU - 19) / 12, never more than 40, 6 bytes less with a magnetometer.
      const most = Math.min(40, Math.floor((mtu - 19 - 6 * magnetometer) / 12));
      const whole = Array.from({ length: Math.floor(85 / most) }, () => most);
      expect(countsOf(packets)).toEqual(85 % most === 0 ? whole : [...whole, 85 % most]);
      const numbers = packets.flatMap(({ samples: values }) => Array.from(values));
      expect(numbers).toEqual(Array.from({ length: 510 }, (_, k) => Math.floor(k / 6)));
      expect(packets.at(-1)!.magnetometer).toEqual(magnetometer ? Int16Array.of(1, 2, 3) : null);
    });
  });

  it('begins a packet with bit 1 at a gap of one sample, and at one it is told of', () => {
    const { packets } = play(host, [
      sensor(),
      ...started(),
      samples(0, 4),
      samples(5 * INTERVAL, 10),
      samples(15 * INTERVAL, 3),
      'gap',
      samples(18 * INTERVAL, 10),
      samples(28 * INTERVAL, 10),
      'fetch',
    ]);
    expect(countsOf(packets)).toEqual([4, 10, 3, 10, 10]);
    expect(droppedOf(packets)).toEqual([false, true, false, true, false]);
  });

  it('takes an even distance off by 3 % for no gap, and a tick that stands still for one', () => {
    const { packets } = play(host, [
      sensor(),
      ...started(),
      samples(0, 10, 0, 5150),
      samples(10 * 5150, 10, 0, 4850),
      samples(10 * 5150 + 9 * 4850, 1),
      samples(10 * 5150 + 10 * 4850, 9),
      'fetch',
    ]);
    expect(droppedOf(packets)).toEqual([false, false, true]);
    expect(countsOf(packets)).toEqual([10, 10, 10]);
  });

  it('sets no bit 1 in the first packet after a start', () => {
    const lines = [samples(0, 13), ...STOP, ...START, samples(S, 10), 'fetch'];
    const { packets } = play(host, [sensor(), ...started(), ...lines]);
    expect(droppedOf(packets)).toEqual([false, false]);
  });

  it('lets no sample wait 100 ms, and sees a silence of a whole turn of the counter', () => {
    const silent = Array.from({ length: 9 }, (_, i) => [
      `time ${((i + 1) * 2 ** 29 + 100 * MS) % 2 ** 32}`,
      'poll',
    ]).flat();
    const { fetches } = play(host, [
      sensor(),
      ...started(),
      samples(0, 3),
      'time 90000',
      'poll',
      'fetch',
      'time 96000',
      'poll',
      'fetch',
      ...silent,
      samples(3 * INTERVAL, 10),
      'fetch',
    ]);
    expect(fetches.map(countsOf)).toEqual([[], [3], [10]]);
    expect(droppedOf(fetches.flat())).toEqual([false, true]);
  });

  it('marks packets with a value at an end of the range', () => {
    const one = (value: number) => `samples 0 1 ${valuesHex([0, 0, 0, 0, 0, value])}`;
    const { packets } = play(host, [
      sensor({ samples: 1 }),
      ...started(),
      ...[32766, 32767, -32766, -32767, -32768].map(one),
      'fetch',
    ]);
    expect(packets.map(({ clipped }) => clipped)).toEqual([false, true, false, true, true]);
  });

  it('spreads the samples of a FIFO between its watermarks, dropping those before the first', () => {
    const fifo = (tick: number, count: number) =>
      `fifo ${tick} ${valuesHex(Array.from({ length: 6 * count }, () => tick / MS))}`;
    const { packets } = play(host, [
      sensor({ samples: 5 }),
      ...started(),
      fifo(24 * MS, 5),
      'time 30000',
      'poll',
      fifo(49 * MS + 3, 5),
      fifo(74 * MS, 5),
      'fetch',
      // Overflow: the samples of this watermark cannot be placed.
      'gap',
      fifo(200 * MS, 5),
      fifo(225 * MS, 5),
      'fetch',
    ]);
    // 25003 ticks between watermarks: 5000.6 a sample.
    expect(packets).toMatchObject([
      { firstTick: 24 * MS + 5000, spanTicks: 20_003, dropped: false },
      { firstTick: 49 * MS + 3 + 4999, spanTicks: 24_997 - 4999, dropped: false },
      { firstTick: 205 * MS, spanTicks: 20 * MS, dropped: true },
    ]);
  });

  it('sends finished packets after a stop, and frees the number of the unfinished one', () => {
    const { packets, answers, statuses, states } = play(host, [
      sensor(),
      ...started(),
      samples(0, 24),
      ...STOP,
      'state',
      ...resend(0, 5),
      ...START,
      'fetch',
      ...resend(0, 2),
      samples(S, 10),
      'fetch',
    ]);
    expect(states).toEqual(['idle rests dark']);
    expect(statuses).toEqual([0, 0, 5, 0, 6]);
    expect(answers[3]).toMatch(/^8100000200/);
    expect(sequencesOf(packets)).toEqual([0, 1, 2]);
  });

  it.each([
    // Of the five samples in it, the packet being filled has reached the new size or more.
    { mtu: 79, next: 3, kept: [2], counts: [5, 5] },
    { mtu: 78, next: 3, kept: [], counts: [4] },
    // It goes on being filled.
    { mtu: 91, next: 2, kept: [], counts: [6] },
    { mtu: 247, next: 2, kept: [0, 1], counts: [10, 10, 10] },
  ])('starts from holding over an MTU of $mtu with what fits it', ({ mtu, next, kept, counts }) => {
    const { packets, answers } = play(host, [
      sensor(),
      ...started(),
      samples(0, 25),
      'link-lost',
      `link-up ${mtu}`,
      'fetch',
      ...START,
      ...resend(0, 3),
      samples(25 * INTERVAL, 5),
      'time 200000',
      'drain',
    ]);
    expect(answers[1]!.slice(0, 10)).toBe(`810000${hexOf(next, 2)}`);
    const found = kept.length > 0 ? `00${hexOf(kept[0]!, 2)}${hexOf(kept.length, 2)}` : '06';
    expect(answers[2]).toBe(`8600${found}`);
    const again = packets.filter(({ resent }) => resent);
    expect(sequencesOf(again)).toEqual(kept);
    const fresh = packets.filter(({ resent }) => !resent).slice(0, 1);
    expect(countsOf([...again, ...fresh])).toEqual(counts);
  });

  it('sends new packets between resent ones, and those at 200 a second', () => {
    const ticks = Array.from({ length: 200 }, (_, i) => [`time ${S + i * MS}`, 'fetch']).flat();
    ticks.splice(51, 0, samples(S - 50 * MS, 10));
    const { packets } = play(host, [
      sensor({ packets: 100 }),
      ...started(),
      samples(0, 600),
      'fetch',
      ...resend(0, 60),
      ...ticks,
    ]);
    const after = packets.slice(60);
    // 200 ms of 200 a second, and the new one among them.
    expect(after.length).toBe(40 + 1);
    expect(sequencesOf(after.filter(({ resent }) => resent))).toEqual(
      Array.from({ length: 40 }, (_, i) => i),
    );
    // Resent at 0, 5, 10, 15 and 20 ms; at 25 ms both are due and the new one goes first.
    expect(after.findIndex(({ resent }) => !resent)).toBe(5);
  });

  it('leaves out what is overwritten before its turn, new or resent, without bit 1', () => {
    const { fetches, lines } = play(host, [
      sensor({ packets: 5 }),
      ...started(),
      samples(0, 50),
      'fetch',
      ...resend(0, 5),
      ...resend(3, 5),
      samples(50 * INTERVAL, 20),
      'wanted',
      'time 500000',
      'drain',
      'wanted',
      samples(70 * INTERVAL, 80),
      'fetch',
    ]);
    expect(fetches.map(sequencesOf)).toEqual([
      [0, 1, 2, 3, 4],
      [5, 6, 2, 3, 4],
      [10, 11, 12, 13, 14],
    ]);
    expect(lines.filter((line) => line.startsWith('wanted'))).toEqual(['wanted 3', 'wanted 0']);
    expect(fetches[1]!.map(({ resent }) => resent)).toEqual([false, false, true, true, true]);
    expect(droppedOf(fetches[2]!)).toEqual([false, false, false, false, false]);
  });

  it('counts a packet that waits for the radio as in the ring', () => {
    const { packets, answers } = play(host, [
      sensor(),
      ...started(),
      samples(0, 25),
      ...resend(0, 9),
      'time 500000',
      'drain',
    ]);
    expect(answers[1]).toBe('86000000000200');
    expect(packets.map(({ sequence, resent }) => [sequence, resent])).toEqual([
      [0, false],
      [1, false],
      [0, true],
      [1, true],
    ]);
  });

  it('finds runs over the wrap of the sequence', () => {
    const { answers } = play(host, [
      sensor(),
      'sequence 65530',
      ...started(),
      samples(0, 120),
      ...resend(65_520, 12),
      ...resend(65_535, 2),
      ...resend(4, 32_767),
      ...resend(6, 32_767),
      ...resend(32_767, 32_767),
    ]);
    expect(answers.slice(1)).toEqual([
      '860000faff0200',
      '860000ffff0200',
      '86000004000200',
      '860006',
      '860000faff0400',
    ]);
  });

  it('ends all sending and forgets its answers when the link is lost, and waits for a start', () => {
    const { fetches, lines } = play(host, [
      sensor(),
      ...started(),
      samples(0, 30),
      'write 0500',
      'link-lost',
      'link-up 247',
      'answers',
      samples(30 * INTERVAL, 10),
      'fetch',
      ...START,
      'time 500000',
      'drain',
    ]);
    expect(lines.filter((line) => line === 'answers')).toHaveLength(1);
    expect(fetches.map(sequencesOf)).toEqual([[], []]);
  });

  it('drops what is too long also when nobody told it that the link before was lost', () => {
    const { lines, packets } = play(host, [
      sensor(),
      ...started(),
      samples(0, 30),
      ...resend(0, 2),
      'link-up 65',
      ...START,
      'wanted',
      'time 500000',
      'drain',
    ]);
    expect(lines).toContain('wanted 0');
    expect(packets).toEqual([]);
  });

  it('holds for 60 s from the loss, whatever links come, unless a start is accepted', () => {
    const { states, statuses } = play(host, [
      sensor(),
      ...started(),
      'link-lost',
      'time 30000000',
      'link-up 64',
      ...START,
      ...resend(0, 1),
      'link-lost',
      'time 59999999',
      'poll',
      'state',
      'time 60000000',
      'poll',
      'state',
    ]);
    expect(statuses).toEqual([0, 4, 5]);
    expect(states).toEqual(['holding samples dark', 'idle rests dark']);
  });

  it('keeps two answers, in order, and takes neither a third request nor 21 bytes', () => {
    const { lines } = play(host, [
      sensor(),
      'link-up 247',
      'write 0501',
      'write 0502',
      'write 0503',
      'answers',
      `write ${'05'.repeat(21)}`,
      `write ${'05'.repeat(20)}`,
      'answers',
    ]);
    expect(lines.slice(3)).toEqual([
      '0',
      '0',
      '17',
      'answers 85010000000000 85020000000000',
      '13',
      '0',
      'answers 850502',
    ]);
  });

  it('answers what is no request as SPEC.md shows in hex', () => {
    const commands = ['-', '42', '05'].flatMap((bytes) => [`write ${bytes}`, 'answers']);
    const { answers } = play(host, [sensor(), ...commands]);
    expect(answers).toEqual(['800001', 'c20001', '850002']);
  });

  it('says so when the part does not answer, and keeps state and settings', () => {
    const { statuses, states, lines } = play(host, [
      sensor(),
      'link-up 247',
      'part 0',
      ...START,
      'state',
      ...configure(400, 1000, 8),
      'part 1',
      'read-info',
      ...START,
      'state',
      'fault',
      'state',
      ...START,
      ...START,
    ]);
    expect(statuses).toEqual([7, 7, 0, 7, 0]);
    expect(states).toEqual(['idle rests dark', 'streaming samples dark', 'idle rests dark']);
    const info = decodeSensorInfo(Buffer.from(lines.find((line) => line.length === 112)!, 'hex'));
    expect(info).toMatchObject({ info: { rateHz: 200, gyroRangeDegS: 2000, accelRangeG: 16 } });
  });

  it('is configured when idle, and looks at the values before the state', () => {
    const { statuses, lines } = play(host, [
      sensor(),
      'link-up 247',
      ...configure(400, 1000, 8),
      'read-info',
      ...configure(400, 500, 8),
      ...configure(250, 2000, 16),
      ...configure(400, 0, 8),
      ...START,
      ...configure(250, 2000, 16),
      ...configure(200, 2000, 16),
    ]);
    expect(statuses).toEqual([0, 3, 3, 3, 0, 3, 5]);
    const info = decodeSensorInfo(Buffer.from(lines.find((line) => line.length === 112)!, 'hex'));
    expect(info).toMatchObject({
      info: {
        rateHz: 400,
        gyroRangeDegS: 1000,
        accelRangeG: 8,
        gyroScaleRadS: Math.fround(0.0005),
        accelScaleMS2: Math.fround(0.0025),
        resendPackets: 20,
      },
    });
  });

  it('blinks for as long as it was asked, over states and links, and stops on request', () => {
    const at = (seconds: number) => [`time ${seconds * S}`, 'poll', 'state'];
    const { states } = play(host, [
      sensor(),
      'link-up 247',
      ...identify(2),
      ...at(0.1),
      ...at(0.3),
      'link-lost',
      ...at(0.6),
      ...at(1.9),
      ...at(2),
      'link-up 247',
      ...identify(200),
      'state',
      ...identify(0),
      'state',
    ]);
    expect(states.map((state) => state.split(' ')[2])).toEqual([
      'lit',
      'dark',
      'lit',
      'dark',
      'dark',
      'lit',
      'dark',
    ]);
  });

  it('without a ring queues what waits, says 0 and answers every resend with gone', () => {
    const { statuses, packets, lines } = play(host, [
      sensor({ packets: 4, resends: 0 }),
      ...started(),
      samples(0, 30),
      ...resend(0, 3),
      'fetch',
      'read-info',
    ]);
    expect(statuses).toEqual([0, 6]);
    expect(sequencesOf(packets)).toEqual([0, 1, 2]);
    const info = decodeSensorInfo(Buffer.from(lines.at(-1)!, 'hex'));
    expect(info).toMatchObject({ info: { resendPackets: 0 } });
  });

  it('refuses memory for fewer than two packets and configurations that are not sound', () => {
    const init = [
      'sensor 0 10 1000000 200 0 1',
      'sensor 1 10 1000000 200 0 1',
      'sensor 5 0 1000000 200 0 1',
      'sensor 5 41 1000000 200 0 1',
      'sensor 5 10 999 200 0 1',
      'sensor 5 10 1000000 250 0 1',
    ];
    const refused = 'refused';
    expect(host.run(init)).toEqual([refused, 'ok', refused, refused, refused, refused]);
  });
});
