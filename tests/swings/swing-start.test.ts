import { describe, expect, it } from 'vitest';
import { appendInstant, createTimeline, GRID_STEP_US } from '../../src/core/arm/arm-timeline.ts';
import { quaternion } from '../../src/core/maths/quaternion.ts';
import { type Vector3, vector3 } from '../../src/core/maths/vector.ts';
import { findSwingStart, speedAt } from '../../src/core/swings/swing-start.ts';

const START_US = 2_000_000;
const Q = [quaternion(), quaternion(), quaternion()];
const STILL = [vector3(), vector3(), vector3()];

/** A timeline of `seconds` whose implement turns as given; times count from its start. */
function timelineOf(seconds: number, rate: (t: number) => Vector3) {
  const timeline = createTimeline();
  timeline.nextUs = START_US;
  const instants = Math.round((seconds * 1e6) / GRID_STEP_US);
  for (let n = 0; n < instants; n++) {
    appendInstant(timeline, Q, STILL, rate((n * GRID_STEP_US) / 1e6), 0);
  }
  return timeline;
}

/** Seconds since the start of the timeline. */
const secondsOf = (us: number | null) => (us === null ? null : (us - START_US) / 1e6);

describe('findSwingStart', () => {
  it('finds the last reversal of the rotation, between instants', () => {
    // Back until 0.7525 s, then forward, in a straight line through zero: linear interpolation is exact.
    const reversal = 0.7525;
    const timeline = timelineOf(1, (t) => vector3(0, 0, 40 * (t - reversal)));
    const start = secondsOf(findSwingStart(timeline, timeline.count - 1));
    expect(start).toBeCloseTo(reversal, 9);
  });

  it('takes the last of several reversals, whatever the axis', () => {
    // cos(2 pi (t - 0.1)/0.5) along a slanted axis changes sign at 0.225, 0.475, 0.725, 0.975 s.
    const axis = [1 / 3, -2 / 3, 2 / 3];
    const timeline = timelineOf(0.9, (t) => {
      const rate = 12 * Math.cos((2 * Math.PI * (t - 0.1)) / 0.5);
      return vector3(axis[0]! * rate, axis[1]! * rate, axis[2]! * rate);
    });
    const start = secondsOf(findSwingStart(timeline, timeline.count - 1));
    // a cosine is straight within 5 ms of its zero to (2 pi 0.005/0.5)^2/6 of that: 3 us
    expect(Math.abs(start! - 0.725)).toBeLessThan(1e-5);
  });

  it('looks at the direction of the last 50 ms, not at speed alone', () => {
    // A turn about x all along, the forward swing about z from 0.6 s: along z the rotation was not forward before.
    const timeline = timelineOf(0.9, (t) => vector3(t < 0.6 ? 8 : 0, 0, t < 0.6 ? -0.1 : 10));
    const start = secondsOf(findSwingStart(timeline, timeline.count - 1))!;
    expect(start).toBeGreaterThanOrEqual(0.595);
    expect(start).toBeLessThanOrEqual(0.6);
  });

  it('falls back to a tenth of the peak speed where nothing reverses', () => {
    // Speeds up as t^2 from 0.05 rad/s: a tenth of the peak of 14.05 (at 0.995 s) is reached at t = sqrt(1.355/14.14).
    const timeline = timelineOf(1, (t) => vector3(0, 0, 0.05 + 14.14 * t * t));
    const peak = 0.05 + 14.14 * 0.99 ** 2; // the last clean instant itself does not count
    const expected = Math.sqrt((0.1 * peak - 0.05) / 14.14);
    const start = secondsOf(findSwingStart(timeline, timeline.count - 1))!;
    // the last instant below it
    expect(start).toBeLessThanOrEqual(expected);
    expect(start).toBeGreaterThan(expected - 0.0051);
  });

  it('answers null when there is neither', () => {
    expect(
      findSwingStart(
        timelineOf(2, () => vector3(0, 0, 9)),
        399,
      ),
    ).toBeNull();
  });

  it('answers null when the timeline is too short to tell', () => {
    expect(
      findSwingStart(
        timelineOf(0.05, () => vector3(0, 0, 9)),
        9,
      ),
    ).toBeNull();
  });

  it('does not look further back than any forward swing lasts', () => {
    // A reversal 1.3 s before the end is beyond 1.2 s.
    const timeline = timelineOf(1.6, (t) => vector3(0, 0, t < 0.295 ? -5 : 9));
    expect(findSwingStart(timeline, timeline.count - 1)).toBeNull();
  });

  it('does not look beyond the ring', () => {
    const timeline = timelineOf(12, (t) => vector3(0, 0, 6 * (t - 11.5025)));
    expect(secondsOf(findSwingStart(timeline, timeline.count - 1))).toBeCloseTo(11.5025, 9);
  });

  // A wrist that yields just before contact: interpolating there would divide by a difference of two
  // negative rates.
  it('finds no start when the implement already turns back at the last clean instant', () => {
    const timeline = timelineOf(1, (t) => vector3(0, 0, t < 0.5 ? -9 : t < 0.9875 ? 12 : -2));
    expect(findSwingStart(timeline, timeline.count - 1)).toBeNull();
  });

  it('answers a number or null for an implement that does not turn at all', () => {
    const timeline = timelineOf(1, () => vector3());
    const start = findSwingStart(timeline, timeline.count - 1);
    expect(start === null || Number.isFinite(start)).toBe(true);
  });
});

describe('speedAt', () => {
  it('is the length of the rotation at an instant', () => {
    const timeline = timelineOf(0.1, (t) => vector3(3, 4, t > 0.05 ? 12 : 0));
    expect(speedAt(timeline, 2)).toBe(5);
    expect(speedAt(timeline, 15)).toBe(13);
  });
});
