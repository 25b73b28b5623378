import { describe, expect, it } from 'vitest';
import { fromRotationVector, quaternion, rotateInverse } from '../../src/core/maths/quaternion.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import { addSample, createTrack } from '../../src/core/orientation/sensor-track.ts';
import { createStrokeDetector, detectStroke } from '../../src/core/swings/stroke-detector.ts';

const RATE_HZ = 200;
/** From the axis of the swing to the sensor, metres. */
const RADIUS_M = 0.6;

interface Turn {
  readonly atS: number;
  /** Fastest turning, rad/s, and how long the turn lasts (SD of a bell), s. */
  readonly peakRadS: number;
  readonly sdS?: number;
}

interface Run {
  readonly turns: readonly Turn[];
  readonly knocksS?: readonly number[];
  /** Samples missing from one instant to the other, s. */
  readonly gapS?: readonly [number, number];
  readonly radiusM?: number;
}

/**
 * A level swing about a vertical axis, in closed form: bells of angular velocity, and what a sensor on the
 * circle feels of them, centripetal along x and tangential along y.
 */
function strokes({ turns, knocksS = [], gapS = [0, 0], radiusM = RADIUS_M }: Run) {
  const track = createTrack('vqf', 1 / RATE_HZ);
  const detector = createStrokeDetector();
  const found: { atS: number; isAir: boolean }[] = [];
  let lastS = -1 / RATE_HZ;
  for (let n = 0; n < 12 * RATE_HZ; n++) {
    const t = n / RATE_HZ;
    if (t > gapS[0] && t < gapS[1]) continue;
    let rate = 0;
    let change = 0;
    for (const { atS, peakRadS, sdS = 0.1 } of turns) {
      const u = (t - atS) / sdS;
      const bell = peakRadS * Math.exp(-u * u * 0.5);
      rate += bell;
      change -= (bell * u) / sdS;
    }
    const acc = vector3(-radiusM * rate * rate, radiusM * change, 9.81);
    for (const atS of knocksS) {
      const since = t - atS;
      if (since >= 0) acc[1] = acc[1]! + 250 * Math.exp(-since / 0.009) * Math.cos(690 * since);
    }
    const dtS = t - lastS;
    const afterGap = dtS > 1.5 / RATE_HZ;
    const gyr = vector3(0, 0, rate);
    const knocked = addSample(track, Math.round(t * 1e6), dtS, gyr, acc, false, afterGap);
    const stroke = detectStroke(detector, track, knocked, dtS);
    if (stroke !== null) found.push({ atS: stroke.tick / 1e6, isAir: stroke.isAir });
    lastS = t;
  }
  return found;
}

const places = (found: ReturnType<typeof strokes>) =>
  found.map(({ atS, isAir }) => `${isAir ? 'air' : 'contact'} ${atS.toFixed(1)}`);

describe('detectStroke', () => {
  it('puts an air swing at the instant of fastest turning', () => {
    for (let i = 0; i < 10; i++) {
      const atS = 3 + 0.0013 * i;
      const [only, ...others] = strokes({ turns: [{ atS, peakRadS: 14 }] });
      expect(others).toEqual([]);
      expect(only?.isAir).toBe(true);
      // a symmetric bell: the sample nearest to its middle, or the next one
      expect(Math.abs(only!.atS - atS)).toBeLessThan(1 / RATE_HZ);
    }
  });

  it('calls a swing with a knock a contact, and nothing besides', () => {
    const found = strokes({ turns: [{ atS: 3, peakRadS: 14 }], knocksS: [2.99] });
    expect(places(found)).toEqual(['contact 3.0']);
  });

  it('tells practice swings from the contacts around them', () => {
    const found = strokes({
      turns: [2, 4, 6, 8].map((atS) => ({ atS, peakRadS: 13 })),
      knocksS: [2, 6],
    });
    expect(places(found)).toEqual(['contact 2.0', 'air 4.0', 'contact 6.0', 'air 8.0']);
  });

  it.each([
    ['backswing', -0.75],
    ['recovery', 0.8],
  ])('does not take a %s for a swing', (_, laterS) => {
    const turns = [
      { atS: 4, peakRadS: 14 },
      { atS: 4 + laterS, peakRadS: -11 },
    ];
    expect(places(strokes({ turns }))).toEqual(['air 4.0']);
    expect(places(strokes({ turns, knocksS: [4] }))).toEqual(['contact 4.0']);
  });

  it('ignores what is slow for a swing, and what is slow for this player', () => {
    expect(strokes({ turns: [{ atS: 3, peakRadS: 4.5 }] })).toEqual([]);
    const [slow, after] = [3, 6].map((atS) => ({ atS, peakRadS: 7 }));
    expect(places(strokes({ turns: [slow!] }))).toEqual(['air 3.0']);
    // half of the usual speed counts, a third does not
    const fast = { atS: 3, peakRadS: 14 };
    expect(places(strokes({ turns: [fast, after!] }))).toEqual(['air 3.0', 'air 6.0']);
    const faster = { atS: 3, peakRadS: 21 };
    expect(places(strokes({ turns: [faster, after!] }))).toEqual(['air 3.0']);
  });

  it('ignores a twirl about the axis through the sensor, and shaking to and fro', () => {
    expect(strokes({ turns: [{ atS: 3, peakRadS: 20 }], radiusM: 0.01 })).toEqual([]);
    const shakes = Array.from({ length: 20 }, (_, i) => ({
      atS: 3 + 0.06 * i,
      peakRadS: i % 2 === 0 ? 7 : -7,
      sdS: 0.02,
    }));
    expect(strokes({ turns: shakes })).toEqual([]);
  });

  it('says nothing of a swing whose fastest part is missing: a contact may be missing too', () => {
    expect(strokes({ turns: [{ atS: 3, peakRadS: 14 }], gapS: [3.05, 3.1] })).toEqual([]);
    // elsewhere a gap does no harm
    const found = strokes({ turns: [{ atS: 3, peakRadS: 14 }], gapS: [3.5, 3.6] });
    expect(places(found)).toEqual(['air 3.0']);
  });

  it('ignores a knock that ends a free fall, and what the ground does to the implement after it', () => {
    const track = createTrack('vqf', 1 / RATE_HZ);
    const detector = createStrokeDetector();
    const found: number[] = [];
    const tumble = vector3(3, 8, 4);
    const r = vector3(-0.15);
    for (let n = 0; n < 4 * RATE_HZ; n++) {
      const t = n / RATE_HZ;
      const falls = t >= 1 && t < 1.4;
      const bounces = t >= 1.4 && t < 2.2;
      const gyr = falls ? tumble : bounces ? vector3(10, -14, 3) : vector3();
      // free of forces but for the tumble: w x (w x r); held or lying: its weight
      const along = gyr[0]! * r[0]! + gyr[1]! * r[1]! + gyr[2]! * r[2]!;
      const square = gyr[0]! ** 2 + gyr[1]! ** 2 + gyr[2]! ** 2;
      const acc = gyr.map((w, i) => w * along - square * r[i]!);
      if (!falls && !bounces) {
        const q = fromRotationVector(quaternion(), 0.3, 0.2, 0);
        rotateInverse(acc, q, vector3(0, 0, 9.81));
      }
      for (const atS of [1.4, 1.75, 2]) {
        const since = t - atS;
        if (since >= 0) acc[2] = acc[2]! + 400 * Math.exp(-since / 0.009) * Math.cos(690 * since);
      }
      const knocked = addSample(track, t * 1e6, 1 / RATE_HZ, gyr, acc, false, false);
      const stroke = detectStroke(detector, track, knocked, 1 / RATE_HZ);
      if (stroke !== null) found.push(stroke.tick / 1e6);
    }
    expect(found).toEqual([]);
  });
});
