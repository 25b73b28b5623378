import { describe, expect, it } from 'vitest';
import type { Condition, SetEvent } from '../../src/core/recording/set-record.ts';
import { conditionOf } from '../../src/core/simulator/kit.ts';
import type { MadePacket } from '../../src/core/simulator/sample-stream.ts';
import { NO_ERRORS } from '../../src/core/simulator/sensor-errors.ts';
import type { Kit, SessionOptions } from '../../src/core/simulator/session-types.ts';
import { simulateSensors } from '../../src/core/simulator/simulate-session.ts';
import { sessionOptions } from './session-options.ts';

const SHORT: Kit = { implement: 'short', ball: 'training' };
const FULL: Kit = { implement: 'full', ball: 'standard' };
const ZERO: SetEvent = { type: 'zero-requested' };
const began = (condition: Condition): SetEvent => ({ type: 'block-began', condition });

function start(changed: Partial<SessionOptions> = {}) {
  const session = simulateSensors(
    sessionOptions({ swings: 3, swingIntervalS: 5, errors: NO_ERRORS, ...changed }),
    { setId: 'listening', startedAtMs: 0, programVersion: 'test' },
  );
  return {
    session,
    hearAt: (atS: number, event: SetEvent) => session.hear(event, atS * 1e6),
    contactsS: () => session.swings.map(({ contactTimeUs }) => contactTimeUs / 1e6),
  };
}

const followed = () => start({ laterBlocks: [{ ...FULL, swings: 4 }] });

/** Packets of the implement made by a time: what has been pulled by then, one packet ahead of it included. */
function packetsUntil({ hardware }: ReturnType<typeof start>['session'], untilS: number) {
  const packets: MadePacket[] = [];
  while ((packets.at(-1)?.madeUs ?? 0) <= untilS * 1e6) {
    const next = hardware[2].packets.next();
    if (next.done) break;
    packets.push(next.value);
  }
  return packets;
}

const mean = (x: readonly number[]) => x.reduce((a, b) => a + b, 0) / x.length;

describe('the listening player', () => {
  it('stands ready after the last ball of a block, as long as it takes', () => {
    const { session, contactsS } = followed();
    expect(session.endUs).toBe(Number.POSITIVE_INFINITY);
    const lastS = contactsS().at(-1)!;
    const packets = packetsUntil(session, lastS + 40);
    expect(packets.at(-1)!.madeUs / 1e6).toBeGreaterThan(lastS + 40);
    const { gyroScaleRadS } = session.hardware[2].info;
    // tremor and sway of 0.15 degrees at up to 2.5 Hz: below 0.05 rad/s an axis
    const still = packets.filter(({ madeUs }) => madeUs / 1e6 > lastS + 2);
    for (const { packet } of still) {
      for (let i = 0; i < packet.samples.length; i += 6) {
        for (let axis = 0; axis < 3; axis++) {
          expect(Math.abs(packet.samples[i + axis]! * gyroScaleRadS)).toBeLessThan(0.1);
        }
      }
    }
  });

  it('swings a few seconds after the next block began with the same implement, then goes home', () => {
    const { session, hearAt, contactsS } = start({ laterBlocks: [{ ...SHORT, swings: 4 }] });
    hearAt(90, began(conditionOf(SHORT)));
    const later = contactsS().slice(3);
    expect(later.length).toBe(4);
    expect(later[0]! - 90).toBeGreaterThan(2);
    expect(later[0]! - 90).toBeLessThan(6);
    expect(session.endUs / 1e6 - later.at(-1)!).toBeCloseTo(3, 9);
    packetsUntil(session, 200);
    expect(session.landings.length).toBe(7);
    hearAt(200, began(conditionOf(SHORT)));
    expect(session.swings.length).toBe(7);
  });

  it('waits for the request with another implement, holds both poses and swings it', () => {
    const { session, hearAt, contactsS } = followed();
    packetsUntil(session, 90);
    hearAt(90, began(conditionOf(FULL)));
    expect(contactsS().length).toBe(3);
    packetsUntil(session, 150);
    hearAt(150, ZERO);
    expect(contactsS().length).toBe(7);
    const firstS = contactsS()[3]!;
    const { accelScaleMS2 } = session.hardware[2].info;
    // Gravity on the implement of perfect sensors, as mounted: three different ways to hold it.
    const packets = packetsUntil(session, firstS - 1.5);
    const gravityAt = (timeS: number) => {
      const { packet } = packets.find(({ madeUs }) => madeUs / 1e6 > timeS)!;
      return [3, 4, 5].map((i) => packet.samples[i]! * accelScaleMS2);
    };
    const angleDeg = (a: readonly number[], b: readonly number[]) =>
      (Math.acos(
        a.reduce((sum, x, i) => sum + x * b[i]!, 0) / Math.hypot(...a) / Math.hypot(...b),
      ) *
        180) /
      Math.PI;
    // plumb is held from 1.7 to 5.9 s after the request, point from 7.1 to 10.3 s (as at the start, 1.7 s later)
    const [plumb, stillPlumb] = [gravityAt(152.5), gravityAt(155.5)];
    const [point, stillPoint] = [gravityAt(157.5), gravityAt(160)];
    expect(angleDeg(plumb, stillPlumb)).toBeLessThan(2);
    expect(angleDeg(point, stillPoint)).toBeLessThan(2);
    expect(Math.abs(angleDeg(plumb, point) - 90)).toBeLessThan(2);
    expect(firstS).toBeGreaterThan(163);
    expect(firstS).toBeLessThan(170);
    // The full racket is 10 cm longer than the short one; the arm is bent, so that it adds a little less.
    const reaches = session.swings.map(({ reachM }) => reachM);
    expect(mean(reaches.slice(3)) - mean(reaches.slice(0, 3))).toBeGreaterThan(0.05);
  });

  it('takes the poses again in the middle of a block, then swings the rest', () => {
    const { session, hearAt, contactsS } = start({ swings: 6 });
    const before = contactsS();
    // In the forward swing of the third ball: it is still struck.
    const atS = before[2]! - 0.1;
    packetsUntil(session, atS);
    hearAt(atS, ZERO);
    const after = contactsS();
    expect(after.slice(0, 3)).toEqual(before.slice(0, 3));
    expect(after.length).toBe(6);
    expect(after[3]! - after[2]!).toBeGreaterThan(10);
    expect(session.landings.map(({ landing }) => landing.contactTimeUs / 1e6)).toEqual(after);
    expect(session.endUs / 1e6 - after[5]!).toBeCloseTo(3, 9);
  });

  it('takes the request within the first second of a pose as answered, one that comes later not', () => {
    for (const [atS, isAnswered] of [
      [0, true],
      [1, true],
      [3, false],
    ] as const) {
      const { hearAt, contactsS } = start();
      hearAt(atS, ZERO);
      expect(contactsS()[0]! < 15).toBe(isAnswered);
    }
  });

  it('finishes the poses before the next block, however soon it is begun', () => {
    const { hearAt, contactsS } = start({ laterBlocks: [{ ...SHORT, swings: 2 }] });
    const atS = contactsS()[2]! + 0.2;
    hearAt(atS, ZERO);
    hearAt(atS + 0.5, began(conditionOf(SHORT)));
    expect(contactsS().length).toBe(5);
    expect(contactsS()[3]! - atS).toBeGreaterThan(11);
  });

  it('drops what is left of a block when the coach begins the next one early', () => {
    const { hearAt, contactsS } = start({ swings: 6, laterBlocks: [{ ...SHORT, swings: 2 }] });
    const second = contactsS()[1]!;
    hearAt(second + 2, began(conditionOf(SHORT)));
    expect(contactsS().length).toBe(4);
    expect(contactsS()[1]).toBe(second);
    expect(contactsS()[2]!).toBeGreaterThan(second + 4);
  });

  it('swings the kit that the coach names, though planned otherwise, and keeps his own of a kit unknown', () => {
    const reachOf = (condition: Condition) => {
      const { session, hearAt } = followed();
      hearAt(60, began(condition));
      hearAt(61, ZERO);
      expect(session.swings.length).toBe(7);
      return mean(session.swings.slice(3).map(({ reachM }) => reachM));
    };
    const long = reachOf(conditionOf({ implement: 'long', ball: 'standard' }));
    const full = reachOf(conditionOf(FULL));
    const short = reachOf({ ...conditionOf(FULL), implement: 'grandfather’s racket' });
    expect(long - full).toBeGreaterThan(0.05);
    expect(full - short).toBeGreaterThan(0.05);
  });

  it('goes on with what is left when no further block was planned', () => {
    const { session, hearAt, contactsS } = start({ swings: 6 });
    const atS = contactsS()[1]! + 2;
    hearAt(atS, began(conditionOf(FULL)));
    expect(session.endUs).toBe(Number.POSITIVE_INFINITY);
    expect(contactsS().length).toBe(2);
    hearAt(atS + 30, ZERO);
    expect(contactsS().length).toBe(6);
    expect(session.endUs).toBeLessThan(Number.POSITIVE_INFINITY);
  });

  // 8 instants over a cycle of swing and waiting, with bounces on the strings in it
  it.each(Array.from({ length: 8 }, (_, i) => 13 + 0.85 * i))(
    'changes nothing that a sensor has already made (heard at %d s)',
    (atS) => {
      const undisturbed = packetsUntil(start({ interludes: ['walk'] }).session, 32);
      const { session, hearAt } = start({ interludes: ['walk'] });
      const made = packetsUntil(session, atS);
      hearAt(atS, ZERO);
      const next = packetsUntil(session, 32);
      expect([...made, ...next.slice(0, 3)]).toEqual(undisturbed.slice(0, made.length + 3));
      // No jump in the turning where the plans meet: at 200 Hz, swings below 400 rad/s^2, shocks do not turn here.
      const { gyroScaleRadS } = session.hardware[2].info;
      const samples = [...made, ...next].flatMap(({ packet }) => [...packet.samples]);
      let roughest = 0;
      for (let i = 6; i < samples.length; i += 6) {
        for (let axis = 0; axis < 3; axis++) {
          const change = Math.abs(samples[i + axis]! - samples[i - 6 + axis]!) * gyroScaleRadS;
          roughest = Math.max(roughest, change);
        }
      }
      expect(roughest).toBeLessThan(400 / 200);
    },
  );

  it('plays the same for the same seed and the same coach, whatever the sensors are asked in between', () => {
    const runs = [true, false].map((isRead) => {
      const { session, hearAt } = followed();
      if (isRead) packetsUntil(session, 60);
      hearAt(60, began(conditionOf(FULL)));
      if (isRead) packetsUntil(session, 70);
      hearAt(70, ZERO);
      return { swings: session.swings, packets: packetsUntil(session, 120).slice(-200) };
    });
    expect(runs[1]).toEqual(runs[0]);
  });
});
