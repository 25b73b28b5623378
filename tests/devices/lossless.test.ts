import fc from 'fast-check';
import { Subject } from 'rxjs';
import { describe, expect, it } from 'vitest';
import { encodeSensorInfo } from '../../src/core/packets/sensor-info.ts';
import { decodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { VirtualFirmware } from '../../src/core/simulator/virtual-firmware.ts';
import { LinkEnded, LinkTimeout } from '../../src/devices/connection-failure.ts';
import { SensorLink } from '../../src/devices/sensor-link.ts';
import type { OpenPort, SensorPort } from '../../src/devices/sensor-port.ts';
import { SimulatedRadio } from '../../src/devices/simulated-radio.ts';
import { plainHardware } from '../simulator/firmware-hardware.ts';
import { lostIn, sequencesOf } from './mock-sensor.ts';

/** What the air does to one notification. */
type Fate = 'through' | 'withheld' | 'twice' | 'late' | 'damaged';

interface Weather {
  readonly firstSequence: number;
  readonly fates: readonly Fate[];
  /** Answers withheld, by turns. */
  readonly deaf: readonly boolean[];
  /** Links down: after so many seconds, for so long. */
  readonly drops: readonly { readonly afterS: number; readonly lastsS: number }[];
}

const PACKETS = 600;
/** 20 packets a second: after these the air is clear, so that the newest gaps show. */
const CLEAR_AFTER_US = 26e6;
const END_US = 45e6;

/**
 * A sensor in such weather. Of one packet sent again at most two in a row are spoiled: five asks are
 * promised, not endless ones.
 */
function stormyPort(weather: Weather, radio: SimulatedRadio): SensorPort {
  const firmware = new VirtualFirmware(plainHardware(weather.firstSequence, PACKETS));
  let turn = 0;
  let answers = 0;
  const spoiled = new Map<number, number>();
  let outUntilUs = 0;
  let current: (() => void) | null = null;
  let fromS = 0;
  for (const { afterS, lastsS } of weather.drops) {
    fromS += afterS;
    const untilUs = (fromS + lastsS) * 1e6;
    if (untilUs > CLEAR_AFTER_US) break;
    radio.at(fromS * 1e6, () => {
      outUntilUs = untilUs;
      current?.();
    });
    fromS += lastsS;
  }

  const fateOf = (bytes: Uint8Array): Fate => {
    const decoded = decodeStreamPacket(bytes);
    if (!decoded.ok || radio.nowUs() > CLEAR_AFTER_US) return 'through';
    const fate = weather.fates[turn++ % weather.fates.length]!;
    if (!decoded.packet.resent || (fate !== 'withheld' && fate !== 'damaged')) return fate;
    const times = spoiled.get(decoded.packet.sequence) ?? 0;
    spoiled.set(decoded.packet.sequence, times + 1);
    return times < 2 ? fate : 'through';
  };

  const open = async (): Promise<OpenPort> => {
    if (radio.nowUs() < outUntilUs) throw new LinkTimeout();
    const notifications = new Subject<Uint8Array>();
    const indications = new Subject<Uint8Array>();
    let isOpen = true;
    let end: () => void = () => {};
    const ended = new Promise<void>((resolve) => {
      end = resolve;
    });
    const close = (): void => {
      if (!isOpen) return;
      isOpen = false;
      firmware.linkLost(radio.nowUs());
      notifications.complete();
      indications.complete();
      end();
    };
    current = close;
    const after = (us: number, act: () => void): void =>
      radio.at(radio.nowUs() + us, () => {
        if (isOpen) act();
      });
    const bring = (bytes: Uint8Array): void => {
      const fate = fateOf(bytes);
      if (fate === 'withheld') return;
      const arriving = fate === 'damaged' ? bytes.with(20, bytes[20]! ^ 0xff) : bytes;
      after(fate === 'late' ? 130_000 : 8000, () => notifications.next(arriving));
      if (fate === 'twice') after(70_000, () => notifications.next(arriving));
    };
    const work = (): void => {
      for (const bytes of firmware.advance(radio.nowUs())) bring(bytes);
      after(15_000, work);
    };
    firmware.linkUp(247);
    work();
    return {
      info: encodeSensorInfo(firmware.info),
      readBattery: async () => null,
      deviceWords: null,
      notifications$: notifications,
      indications$: indications,
      writeControl: async (bytes) => {
        if (!isOpen) throw new LinkEnded();
        after(7000, () => {
          const answer = firmware.onRequest(bytes, radio.nowUs());
          const isDeaf = weather.deaf[answers++ % weather.deaf.length]!;
          // An unanswered start costs two seconds of the ring each time: never twice in a row here.
          if (!isDeaf || bytes[0] === 1) after(7000, () => indications.next(answer));
        });
      },
      ended,
      close,
    };
  };
  return { id: 'stormy', open, forget: () => Promise.resolve() };
}

const weathers: fc.Arbitrary<Weather> = fc.record({
  firstSequence: fc.oneof(
    fc.integer({ min: 0, max: 65535 }),
    fc.integer({ min: 65000, max: 65535 }),
  ),
  fates: fc.array(
    fc.constantFrom<Fate>('through', 'through', 'through', 'withheld', 'twice', 'late', 'damaged'),
    { minLength: 1, maxLength: 60 },
  ),
  deaf: fc.array(fc.boolean(), { minLength: 1, maxLength: 10 }),
  drops: fc.array(
    fc.record({
      // what the drop before cost is fetched by then
      afterS: fc.double({ min: 4, max: 9, noNaN: true }),
      lastsS: fc.double({ min: 0.05, max: 5, noNaN: true }),
    }),
    { maxLength: 4 },
  ),
});

describe('a link in any weather', () => {
  it('hands on every packet sent exactly once: withheld, repeated, late, damaged, links dropped', async () => {
    await fc.assert(
      fc.asyncProperty(weathers, async (weather) => {
        const radio = new SimulatedRadio();
        const records: SetRecord[] = [];
        const link = new SensorLink('implement', stormyPort(weather, radio), radio, {
          record: (record) => records.push(record),
          state: () => {},
        });
        void link.start();
        await radio.advance(END_US, () => false);
        const came = sequencesOf(records)
          .filter((sequence) => sequence >= 0)
          .map((sequence) => (sequence - weather.firstSequence) & 0xffff)
          .sort((a, b) => a - b);
        expect(lostIn(records)).toEqual([]);
        expect(came).toEqual(Array.from({ length: PACKETS }, (_, i) => i));
      }),
      { seed: 20_261_125, numRuns: 60 },
    );
  }, 60_000);
});
