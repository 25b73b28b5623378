import { describe, expect, it } from 'vitest';
import {
  ARM_ROW,
  appendInstant,
  createTimeline,
  GRID_CLIPPED,
  GRID_GAP,
  GRID_IN_SHOCK,
  GRID_INTERPOLATED,
  GRID_STEP_US,
  instantAt,
  slotOf,
} from '../../src/core/arm/arm-timeline.ts';
import { createGyroTilt } from '../../src/core/arm/gyro-tilt.ts';
import { mountingFromPlumb } from '../../src/core/arm/mounting.ts';
import { TILT_SEEN_LIVE } from '../../src/core/arm/reach.ts';
import { fromRotationVector, quaternion } from '../../src/core/maths/quaternion.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import { readSwing } from '../../src/core/swings/read-swing.ts';
import type { ArmFrame } from '../../src/core/swings/segment-series.ts';
import { armMoved, cutSwing } from '../../src/core/swings/swing-cut.ts';

const LENGTHS_M = [0.28, 0.25, 0.5] as const;
const CONTACT_S = 1.4031;
const REVERSAL_S = 1.0513;
const START_US = 1_000_000;

/** Level arm, z up. Headings of the three segments over time, rad: smooth, backward before the reversal. */
function headings(t: number): [number, number, number] {
  const s = t - REVERSAL_S;
  return [0.3 + 1.5 * s * s, 0.9 + 3 * s * s - 2 * s ** 3, 1.6 + 8 * s * s];
}

/** Closed form: reach of a planar chain. */
function reachAt(t: number): number {
  const [a, b, c] = headings(t);
  const x = LENGTHS_M[0] * Math.cos(a) + LENGTHS_M[1] * Math.cos(b) + LENGTHS_M[2] * Math.cos(c);
  const y = LENGTHS_M[0] * Math.sin(a) + LENGTHS_M[1] * Math.sin(b) + LENGTHS_M[2] * Math.sin(c);
  return Math.hypot(x, y);
}

// Each sensor's earth frame is turned against the court; the sensors' x axes lie along the segments.
const HEADING_OF_FRAME = [0.4, -1.1, 2.3] as const;
const FRAME: ArmFrame = {
  mounting: mountingFromPlumb([vector3(-1), vector3(-1), vector3(-1)]),
  lengthsM: LENGTHS_M,
  headingRad: HEADING_OF_FRAME,
  courtHeadingKnown: true,
  uncertainty: { elbowRad: 0.01, wristRad: 0.01 },
  tiltUncertainty: TILT_SEEN_LIVE,
};

interface Disturbance {
  readonly flags?: (t: number) => number;
  readonly rate?: (t: number) => number;
}

/** Timeline up to 50 ms after contact; from contact on, and wherever flagged, it is all shock and no sense. */
function swingTimeline({ flags = () => 0, rate }: Disturbance = {}) {
  const timeline = createTimeline();
  timeline.nextUs = START_US;
  for (;;) {
    const t = timeline.nextUs / 1e6;
    if (t > CONTACT_S + 0.05) return timeline;
    const shaken = t > CONTACT_S - 0.001 || (flags(t) & GRID_IN_SHOCK) !== 0;
    const q = headings(t).map((h, k) =>
      fromRotationVector(quaternion(), 0, shaken ? 1.1 : 0, h - HEADING_OF_FRAME[k as 0 | 1 | 2]),
    );
    const s = t - REVERSAL_S;
    appendInstant(
      timeline,
      q,
      [vector3(), vector3(6 * s), vector3()],
      vector3(0, 0, rate === undefined ? 16 * s : rate(t)),
      (shaken ? GRID_IN_SHOCK : 0) | flags(t),
    );
  }
}

const NO_TILTS = [createGyroTilt(), createGyroTilt(), createGyroTilt()] as const;
const CONTACT = { timeUs: CONTACT_S * 1e6, standardErrorUs: 1443 };

/** Reads the swing of a timeline that is not void. */
function read(timeline = swingTimeline(), contact = CONTACT, index = 0) {
  const { swing, curves } = readSwing(cutSwing(timeline, NO_TILTS, contact), FRAME, index);
  if (curves === null) throw new Error(`void: ${swing.voidReason}`);
  return { swing, curves };
}

describe('readSwing', () => {
  it('reads reach, start and curve of a level swing known in closed form', () => {
    const { swing, curves } = read(swingTimeline(), CONTACT, 7);
    expect(swing.voidReason).toBeNull();
    expect(swing.index).toBe(7);
    expect(Math.abs(swing.startTimeUs / 1e6 - REVERSAL_S)).toBeLessThan(1e-6); // straight line through zero
    // Parabola over 30 ms carried on by 3 ms: third derivative of the reach (below 300 m/s^3) times x^3-like remainder
    // (0.033 s)^3/6/3: 0.6 mm.
    expect(Math.abs(swing.reachM - reachAt(CONTACT_S))).toBeLessThan(6e-4);
    for (let percent = 0; percent <= 100; percent++) {
      const t = REVERSAL_S + ((CONTACT_S - REVERSAL_S) * percent) / 100;
      // cubic interpolation on 5 ms: far better than the extrapolated end
      expect(Math.abs(curves.reachCurveM[percent]! - reachAt(t))).toBeLessThan(
        percent < 96 ? 1e-5 : 6e-4,
      );
    }
    // A level arm: the horizontal projection is all of the reach.
    expect(Math.abs(swing.horizontalReachM - swing.reachM)).toBeLessThan(6e-4);
    expect(Math.hypot(swing.frontalReachM, swing.sagittalReachM)).toBeCloseTo(swing.reachM, 2);
    // 16 rad/s^2 since the reversal, read at the last clean instant (1.400 s)
    expect(swing.contactImplementRateRadS).toBeCloseTo(16 * (1.4 - REVERSAL_S), 9);
    expect(swing.peakImplementRateRadS).toBeCloseTo(16 * (1.4 - REVERSAL_S), 9);
  });

  it('gives the direction of every segment over the swing', () => {
    const { curves } = read();
    for (let percent = 0; percent <= 100; percent += 5) {
      const t = REVERSAL_S + ((CONTACT_S - REVERSAL_S) * percent) / 100;
      headings(t).forEach((heading, k) => {
        const [x, y, z] = curves.directions.subarray(9 * percent + 3 * k, 9 * percent + 3 * k + 3);
        // up to 6 rad/s: components of unit size, cubic on 5 ms; the last 3 ms extrapolated
        const off = percent < 96 ? 1e-5 : 2e-3;
        expect(Math.hypot(x! - Math.cos(heading), y! - Math.sin(heading), z!)).toBeLessThan(off);
        expect(Math.hypot(x!, y!, z!)).toBeCloseTo(1, 12);
      });
    }
    expect(curves.lengthsM).toEqual(LENGTHS_M);
  });

  it('gives the reach in the 300 ms before contact, also before a short swing began', () => {
    const { curves } = read();
    curves.reachBeforeContactM.forEach((reach, row) => {
      const t = CONTACT_S - (60 - row) * 0.005;
      expect(Math.abs(reach - reachAt(t))).toBeLessThan(row < 58 ? 1e-5 : 6e-4);
    });
    // A gap that ends 11 ms before the start, 363 ms before contact, takes nothing away: cubic interpolation asks for
    // two instants on either side of a point, so at 0 % for 1.045 and 1.050 s.
    const before = read(swingTimeline({ flags: (t) => (t < 1.0375 ? GRID_GAP : 0) }));
    expect(before.curves).toEqual(curves);
    const late = swingTimeline({ flags: (t) => (t < 1.2 ? GRID_GAP : 0) });
    const { swing } = readSwing(cutSwing(late, NO_TILTS, CONTACT), FRAME, 0);
    expect(swing.voidReason).toBe('sensor-gap'); // since that one covers the start
  });

  it('gives the speed of the sweet spot at contact', () => {
    const h = 1e-6;
    const tip = (t: number) => {
      const angles = headings(t);
      return [Math.cos, Math.sin].map((f) =>
        angles.reduce((sum, a, k) => sum + LENGTHS_M[k]! * f(a), 0),
      );
    };
    const [before, after] = [tip(CONTACT_S - h), tip(CONTACT_S + h)];
    const speed = Math.hypot(...after.map((v, i) => (v - before[i]!) / (2 * h)));
    // slope of a cubic over 40 ms, carried on by 3 ms: some thousandths of 4 m/s
    expect(Math.abs(read().swing.sweetSpotSpeedMS - speed)).toBeLessThan(0.02);
  });

  it('reads what little a gap left before contact', () => {
    const whole = cutSwing(swingTimeline(), NO_TILTS, CONTACT);
    const rows = whole.q.length / ARM_ROW;
    for (const left of [3, 4, 5]) {
      const firstUs = whole.firstUs + (rows - left) * GRID_STEP_US;
      const cut = { ...whole, q: whole.q.slice(-left * ARM_ROW), firstUs, startUs: firstUs };
      const { swing } = readSwing(cut, FRAME, 0);
      expect(Math.abs(swing.sweetSpotSpeedMS - read().swing.sweetSpotSpeedMS)).toBeLessThan(0.1);
    }
  });

  it('reads the reach from before the shock, whatever the shock says', () => {
    const calm = read().swing;
    // the shaken part of the timeline is tilted by 63 degrees
    expect(Math.abs(calm.reachM - reachAt(CONTACT_S))).toBeLessThan(6e-4);
    // another sensor feels the shock two instants early by its own clock: carried on over 13 ms
    const early = swingTimeline({ flags: (t) => (t > CONTACT_S - 0.012 ? GRID_IN_SHOCK : 0) });
    const { swing } = read(early);
    // remainder with 0.013 s beyond: 300 (0.043)^3/6/2 = 2 mm
    expect(Math.abs(swing.reachM - reachAt(CONTACT_S))).toBeLessThan(2e-3);
  });

  it('adds the error of the contact time where the reach changes', () => {
    const { curves: exact } = read(swingTimeline(), { ...CONTACT, standardErrorUs: 0 });
    const { swing, curves: timed } = read();
    const h = 1e-5;
    const slope = (reachAt(CONTACT_S) - reachAt(CONTACT_S - h)) / h; // m/s
    const added = Math.sqrt(timed.reachCurveNoiseM[100]! ** 2 - exact.reachCurveNoiseM[100]! ** 2);
    // the slope at contact is itself extrapolated: a few percent
    expect(Math.abs(added / (Math.abs(slope) * CONTACT.standardErrorUs * 1e-6) - 1)).toBeLessThan(
      0.05,
    );
    // 0 % hangs on the reversal, not on contact
    expect(timed.reachCurveNoiseM[0]).toBe(exact.reachCurveNoiseM[0]);
    expect(swing.reachStandardErrorM).toBeGreaterThanOrEqual(timed.reachCurveNoiseM[100]!);
  });

  it('counts clipped and interpolated instants between start and contact only', () => {
    const marked = swingTimeline({
      flags: (t) =>
        (Math.abs(t - 1.2) < 0.008 ? GRID_CLIPPED : 0) |
        (Math.abs(t - 1.25) < 0.003 || t < 1.02 ? GRID_INTERPOLATED : 0),
    });
    const { swing } = read(marked);
    expect(swing.clippedSamples).toBe(3); // 1.195, 1.200, 1.205
    expect(swing.interpolatedSamples).toBe(1);
  });

  it.each([
    ['a gap in the swing', { flags: (t: number) => (Math.abs(t - 1.2) < 0.003 ? GRID_GAP : 0) }],
    ['a gap over the start', { flags: (t: number) => (t > 1.03 && t < 1.06 ? GRID_GAP : 0) }],
    ['a gap of 30 ms before contact', { flags: (t: number) => (t > 1.37 ? GRID_GAP : 0) }],
  ])('voids a swing with %s as sensor-gap', (_, disturbance) => {
    const { swing, curves } = readSwing(
      cutSwing(swingTimeline(disturbance), NO_TILTS, CONTACT),
      FRAME,
      3,
    );
    expect(swing.voidReason).toBe('sensor-gap');
    expect(swing.index).toBe(3);
    expect(swing.reachM).toBeNaN();
    expect(curves).toBeNull();
    expect(swing.startTimeUs).toBe(CONTACT.timeUs);
  });

  it('does not mind a gap before the swing', () => {
    const before = swingTimeline({ flags: (t) => (t < 1.03 ? GRID_GAP : 0) });
    const { swing, curves } = read(before);
    expect(swing.voidReason).toBeNull();
    // 373 ms of data before contact from 1.03 s on: the whole 300 ms are there
    expect([...curves.reachBeforeContactM].some(Number.isNaN)).toBe(false);
  });

  it('voids a swing of sensors that were never zeroed', () => {
    const { swing } = readSwing(cutSwing(swingTimeline(), NO_TILTS, CONTACT), 'not-zeroed', 0);
    expect(swing.voidReason).toBe('not-zeroed');
    expect(swing.reachM).toBeNaN();
    expect(swing.contactTimeUs).toBe(CONTACT.timeUs);
  });

  it('voids a contact without forward swing', () => {
    const { swing } = readSwing(
      cutSwing(swingTimeline({ rate: () => 7 }), NO_TILTS, CONTACT),
      FRAME,
      0,
    );
    expect(swing.voidReason).toBe('no-forward-swing');
  });
});

describe('armMoved', () => {
  it('tells a stroke from a racket that falls while the arm rests', () => {
    const timeline = swingTimeline();
    expect(armMoved(timeline, CONTACT.timeUs)).toBe(true);
    timeline.turnRateRadS.fill(0.5);
    expect(armMoved(timeline, CONTACT.timeUs)).toBe(false);
    // within the 250 ms before contact, not earlier
    timeline.turnRateRadS[3 * slotOf(instantAt(timeline, CONTACT.timeUs - 200_000)) + 1] = 4;
    expect(armMoved(timeline, CONTACT.timeUs)).toBe(true);
    timeline.turnRateRadS.fill(0.5);
    timeline.turnRateRadS[3 * slotOf(instantAt(timeline, CONTACT.timeUs - 300_000)) + 1] = 4;
    expect(armMoved(timeline, CONTACT.timeUs)).toBe(false);
    expect(timeline.nextUs - START_US).toBeLessThan(2048 * GRID_STEP_US);
  });
});
