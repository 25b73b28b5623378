import { describe, expect, it } from 'vitest';
import { vector3 } from '../../src/core/maths/vector.ts';
import {
  accelJerk,
  addSample,
  BEFORE_TRACK,
  BEYOND_TRACK,
  createReading,
  createTrack,
  readTrack,
  SAMPLE_AFTER_GAP,
  SAMPLE_BEFORE_SHOCK,
  SAMPLE_CLIPPED,
  SAMPLE_IN_SHOCK,
  type SensorTrack,
  TRACK_CAPACITY,
} from '../../src/core/orientation/sensor-track.ts';
import { expectClose } from '../maths/close.ts';

const TICK_HZ = 1_000_000;
const STEP = 5000;
const DT = 0.005;
const REST = vector3(0, 0, 9.81);

interface Feed {
  readonly gyr?: Float64Array;
  readonly acc?: Float64Array;
  readonly clipped?: boolean;
  readonly afterGap?: boolean;
  readonly steps?: number;
}

/** Feeds one sample; `steps` intervals after the one before. */
function feed(
  track: SensorTrack,
  lastTick: number,
  sample: Feed,
): { tick: number; knocked: boolean } {
  const steps = sample.steps ?? 1;
  const tick = lastTick + steps * STEP;
  const knocked = addSample(
    track,
    tick,
    steps * DT,
    sample.gyr ?? vector3(),
    sample.acc ?? REST,
    sample.clipped ?? false,
    sample.afterGap ?? false,
  );
  return { tick, knocked };
}

/** A track turning about the vertical at 2 rad/s, sped up by `accelRadS2`; sample n has tick (n + 1) STEP. */
function turning(samples: number, accelRadS2 = 0): SensorTrack {
  const track = createTrack('vqf', DT);
  for (let n = 0; n < samples; n++) {
    const t = (n + 1) * DT;
    feed(track, n * STEP, {
      gyr: vector3(0, 0, 2 + accelRadS2 * t),
      acc: vector3(0, 0, 9.81 + 0.5 * t),
    });
  }
  return track;
}

describe('readTrack', () => {
  it('reads a constant turn between samples exactly', () => {
    const track = turning(100);
    const reading = createReading();
    for (const tick of [20 * STEP, 20.25 * STEP, 33.5 * STEP, 90.999 * STEP]) {
      const k = readTrack(track, tick, TICK_HZ, 0, reading);
      expect(k).toBe(Math.floor(tick / STEP) - 1);
      // Closed form: the first sample already turned by one step.
      const half = (2 * tick) / TICK_HZ / 2;
      expectClose(reading.qEarthFromSensor, [Math.cos(half), 0, 0, Math.sin(half)], 1e-13);
      expectClose(reading.gyr, [0, 0, 2], 1e-14);
      expectClose(reading.gyrRate, [0, 0, 0], 1e-11);
      expectClose(reading.acc, [0, 0, 9.81 + (0.5 * tick) / TICK_HZ], 1e-12);
      expect(reading.spacingS).toBeCloseTo(DT, 12);
      expect(reading.flags).toBe(0);
    }
  });

  it('reads a constant angular acceleration exactly', () => {
    const track = turning(60, 30);
    const reading = createReading();
    const tick = 40.3 * STEP;
    readTrack(track, tick, TICK_HZ, 0, reading);
    expectClose(reading.gyr, [0, 0, 2 + (30 * tick) / TICK_HZ], 1e-12);
    expectClose(reading.gyrRate, [0, 0, 30], 1e-9); // quotient of numbers known to 1e-15 by 0.01 s
  });

  it('finds the same place from any starting point', () => {
    const track = turning(100);
    const reading = createReading();
    for (const from of [0, 1, 49, 50, 51, 98]) {
      expect(readTrack(track, 51.5 * STEP, TICK_HZ, from, reading)).toBe(50);
    }
  });

  it('says whether it will ever reach a tick it cannot read, and leaves the reading alone', () => {
    const track = turning(100);
    const reading = createReading();
    // the newest two samples are needed for the angular acceleration
    expect(readTrack(track, 99 * STEP, TICK_HZ, 0, reading)).toBe(BEYOND_TRACK);
    expect(readTrack(track, 1.5 * STEP, TICK_HZ, 0, reading)).toBe(BEFORE_TRACK);
    expect(readTrack(createTrack('vqf', DT), 0, TICK_HZ, 0, reading)).toBe(BEYOND_TRACK);
    expect(reading).toEqual(createReading());
    expect(readTrack(track, 98.9 * STEP, TICK_HZ, 0, reading)).toBe(97);
  });

  it('reads on after the ring has turned over, and no longer what it has lost', () => {
    const n = 2 * TRACK_CAPACITY + 10;
    const track = turning(n);
    const reading = createReading();
    const tick = (n - 5.5) * STEP;
    expect(readTrack(track, tick, TICK_HZ, n - 20, reading)).toBe(n - 7);
    const half = tick / TICK_HZ;
    // thousands of steps of 1e-16 each
    expectClose(
      reading.qEarthFromSensor.map(
        (x) => x * Math.sign(reading.qEarthFromSensor[0]! * Math.cos(half)),
      ),
      [Math.cos(half), 0, 0, Math.sin(half)],
      1e-11,
    );
    expect(readTrack(track, (n - TRACK_CAPACITY) * STEP, TICK_HZ, 0, reading)).toBe(BEFORE_TRACK);
  });
});

describe('addSample', () => {
  it('flags a knock, the 100 ms after it, and the reading just before it', () => {
    const track = createTrack('vqf', DT);
    let tick = 0;
    for (let n = 0; n < 40; n++) ({ tick } = feed(track, tick, {}));
    const struck = feed(track, tick, { acc: vector3(40, 0, 9.81) });
    expect(struck.knocked).toBe(true);
    tick = struck.tick;
    for (let n = 0; n < 40; n++) {
      const next = feed(track, tick, { acc: n % 2 === 0 ? vector3(-90, 0, 9.81) : REST });
      if (n < 19) expect(next.knocked).toBe(false);
      tick = next.tick;
    }
    const flagAt = (n: number) => track.flags[n]! & SAMPLE_IN_SHOCK;
    expect(flagAt(39)).toBe(0);
    // 100 ms at 5 ms: the knock and the 19 samples after it; one more by rounding of the countdown
    for (let n = 40; n < 60; n++) expect(flagAt(n)).toBe(SAMPLE_IN_SHOCK);
    const reading = createReading();
    readTrack(track, 39.5 * STEP, TICK_HZ, 0, reading); // between samples 38 and 39
    expect(reading.flags).toBe(SAMPLE_BEFORE_SHOCK);
    readTrack(track, 38.5 * STEP, TICK_HZ, 0, reading);
    expect(reading.flags).toBe(0);
  });

  it('lets the orientation pass through a knock untouched by the accelerometer', () => {
    const track = createTrack('vqf', DT);
    let tick = 0;
    for (let n = 0; n < 400; n++) ({ tick } = feed(track, tick, {}));
    for (let n = 0; n < 19; n++) ({ tick } = feed(track, tick, { acc: vector3(100, 50, -80) }));
    const slot = 4 * (track.count - 1);
    // Closed form: without rate the orientation stays.
    expectClose(track.q.subarray(slot, slot + 4), [1, 0, 0, 0], 1e-15);
  });

  it('takes neither a smooth swing nor a shake of the usual size for a knock', () => {
    const track = createTrack('vqf', DT);
    let tick = 0;
    for (let n = 0; n < 400; n++) {
      // 100 m/s^2 at 2 Hz: second difference 100 (2 pi 2 0.005)^2 = 0.4 m/s^2
      const next = feed(track, tick, {
        acc: vector3(100 * Math.sin(4 * Math.PI * n * DT), 0, 9.81),
      });
      expect(next.knocked).toBe(false);
      tick = next.tick;
    }
    for (let n = 0; n < 20; n++) {
      const next = feed(track, tick, { acc: vector3(n % 2 === 0 ? 6 : -6, 0, 9.81) });
      if (n > 0) expect(next.knocked).toBe(false); // at most 24 m/s^2 from one to the next
      tick = next.tick;
    }
  });

  it('flags clipping on its own sample and both readings beside it', () => {
    const track = createTrack('vqf', DT);
    let tick = 0;
    for (let n = 0; n < 20; n++) ({ tick } = feed(track, tick, { clipped: n === 10 }));
    const reading = createReading();
    const flagsBetween = (n: number) => {
      readTrack(track, (n + 1.5) * STEP, TICK_HZ, 0, reading);
      return reading.flags;
    };
    expect([8, 9, 10, 11].map(flagsBetween)).toEqual([0, SAMPLE_CLIPPED, SAMPLE_CLIPPED, 0]);
  });

  it('flags a gap only between the samples around it and turns by its whole length', () => {
    const track = createTrack('vqf', DT);
    let tick = 0;
    const gyr = vector3(0, 0, 2);
    for (let n = 0; n < 20; n++) {
      const gap = n === 10;
      ({ tick } = feed(track, tick, { gyr, afterGap: gap, steps: gap ? 8 : 1 }));
    }
    const reading = createReading();
    const at = (t: number) => {
      readTrack(track, t, TICK_HZ, 0, reading);
      return reading.flags;
    };
    expect(at(9.5 * STEP)).toBe(0);
    expect(at(14 * STEP)).toBe(SAMPLE_AFTER_GAP); // sample 9 is at 10 STEP, sample 10 at 18
    expect(reading.spacingS).toBeCloseTo(8 * DT, 12);
    const half = (14 * STEP) / TICK_HZ;
    expectClose(reading.qEarthFromSensor, [Math.cos(half), 0, 0, Math.sin(half)], 1e-13);
    expect(at(18.5 * STEP)).toBe(0);
  });

  // A fault once: the second difference is taken across missing samples as if they were neighbours, so a lost
  // packet in a swing is a knock (and then a contact).
  it('takes no knock from samples on both sides of a gap', () => {
    const track = createTrack('vqf', DT);
    let tick = 0;
    // A forward swing that gathers speed: centripetal acceleration r (w' t)^2 with r = 0.6 m, w' = 60 rad/s^2,
    // whose second difference at 5 ms is 2 r w'^2 dt^2 = 0.1 m/s^2. A packet of ten samples is lost.
    const acc = (t: number) => vector3(-0.6 * (60 * t) ** 2, 0, 9.81);
    for (let n = 0; n < 30; n++) {
      const next = feed(track, tick, { acc: acc(tick / TICK_HZ) });
      expect(next.knocked).toBe(false);
      tick = next.tick;
    }
    const after = feed(track, tick, {
      acc: acc((tick + 10 * STEP) / TICK_HZ),
      steps: 11,
      afterGap: true,
    });
    expect(after.knocked).toBe(false);
  });
});

describe('accelJerk', () => {
  it('is the length of the second difference of three accelerations', () => {
    const track = createTrack('vqf', DT);
    let tick = 0;
    for (const acc of [vector3(1, 2, 3), vector3(2, 2, 4), vector3(6, -2, 12)]) {
      ({ tick } = feed(track, tick, { acc }));
    }
    // second differences (3, -4, 7)
    expect(accelJerk(track, 2)).toBeCloseTo(Math.sqrt(74), 14);
  });
});
