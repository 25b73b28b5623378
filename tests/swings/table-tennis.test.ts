import { describe, expect, it } from 'vitest';
import { readText } from '../../src/batch/read-recording.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import { addSample, createTrack } from '../../src/core/orientation/sensor-track.ts';
import { readNumberColumns } from '../../src/core/recording/csv-numbers.ts';
import { createStrokeDetector, detectStroke } from '../../src/core/swings/stroke-detector.ts';
import { openDataFile } from '../open-data.ts';

/**
 * Table tennis against a ball robot, watch on the wrist, 50 Hz: data set pingpong-wrist (MIT). What that limits: the
 * ringing of a contact has died away between two samples, and the wrist feels little of it, so only half of the
 * strokes (32 of 63, 22 of 40) show the knock of a contact; the others are called air swings although the ball was
 * met. Strokes can be counted so, contacts cannot. A soft block turns the wrist hardly more than a recovery does.
 */
const RATE_HZ = 50;
const FILES = [
  {
    name: 'block, "fast"',
    path: openDataFile('pingpong-wrist/block_fast_20210422213703.csv.gz'),
    // the README's interval of fast feeds
    statedS: 1.166,
    // one soft block turned the wrist too little
    offBeat: 1,
  },
  {
    // Named fast, but the signal says slow: nothing repeats itself after 1.166 s.
    name: 'topspin, named "fast"',
    path: openDataFile('pingpong-wrist/topspin_right_fast_20210422211818.csv.gz'),
    statedS: 1.74,
    // something other than a stroke at 9.1 s hides the one at 9.8 s; then one feed was left, and one at 68 s
    offBeat: 3,
  },
];
const COLUMNS = ['t', 'gyr_x', 'gyr_y', 'gyr_z', 'rawacc_x', 'rawacc_y', 'rawacc_z'];

interface Wrist {
  readonly timeS: Float64Array;
  readonly gyr: readonly Float64Array[];
  readonly acc: readonly Float64Array[];
}

function readWrist(path: string): Wrist {
  const [timeS, ...rest] = readNumberColumns(readText(path), ',', COLUMNS);
  return { timeS: timeS!, gyr: rest.slice(0, 3), acc: rest.slice(3) };
}

/** Strokes by the production rule, with or without a contact felt, in order. */
function strokesOf({ timeS, gyr, acc }: Wrist) {
  const track = createTrack('vqf', 1 / RATE_HZ);
  const detector = createStrokeDetector();
  const found: { atS: number; isAir: boolean }[] = [];
  timeS.forEach((t, n) => {
    const dtS = n === 0 ? 1 / RATE_HZ : t - timeS[n - 1]!;
    const [g, a] = [gyr, acc].map((columns) => vector3(...columns.map((c) => c[n]!)));
    const knocked = addSample(track, t * 1e6, dtS, g!, a!, false, false);
    const stroke = detectStroke(detector, track, knocked, dtS);
    if (stroke !== null) found.push({ atS: stroke.tick / 1e6, isAir: stroke.isAir });
  });
  return found.sort((x, y) => x.atS - y.atS);
}

/**
 * Autocorrelation of the speed of turning at each lag, unbiased; it knows nothing of strokes. Samples are evenly
 * spaced (19.95 to 19.97 ms).
 */
function autocorrelation({ gyr }: Wrist): (lag: number) => number {
  const speed = gyr[0]!.map((_, n) => Math.hypot(...gyr.map((c) => c[n]!)));
  const mean = speed.reduce((x, y) => x + y, 0) / speed.length;
  const at = (lag: number) => {
    let sum = 0;
    for (let n = lag; n < speed.length; n++) sum += (speed[n]! - mean) * (speed[n - lag]! - mean);
    return sum / (speed.length - lag);
  };
  return (lag) => at(lag) / at(0);
}

/** The lag after which the wrist's turning repeats itself best, seconds: from the fourth repetition, for its accuracy. */
function feedIntervalS(wrist: Wrist): number {
  const r = autocorrelation(wrist);
  const stepS = (wrist.timeS.at(-1)! - wrist.timeS[0]!) / (wrist.timeS.length - 1);
  const best = (fromS: number, toS: number) => {
    let lag = Math.round(fromS / stepS);
    for (let l = lag; l * stepS <= toS; l++) if (r(l) > r(lag)) lag = l;
    return lag * stepS;
  };
  const once = best(0.8, 2.4);
  return best(4 * once - 0.2, 4 * once + 0.2) / 4;
}

/** Strokes up to the first pause of more than two feeds: before and after, the watch is switched on and off. */
function playedSet<T extends { readonly atS: number }>(strokes: readonly T[], intervalS: number) {
  const end = strokes.findIndex(
    ({ atS }, i) => i > 0 && atS - strokes[i - 1]!.atS > 2.5 * intervalS,
  );
  return end < 0 ? strokes : strokes.slice(0, end);
}

describe.each(FILES)('detectStroke on a wrist at 50 Hz: $name', ({ path, statedS, offBeat }) => {
  const test = it.skipIf(path === null);

  test('the signal repeats itself at the feed interval', () => {
    const wrist = readWrist(path!);
    const intervalS = feedIntervalS(wrist);
    // The robot's dial is set by hand: within 3 %.
    expect(Math.abs(intervalS / statedS - 1)).toBeLessThan(0.03);
    const r = autocorrelation(wrist);
    const at = (s: number) => r(Math.round(s * RATE_HZ));
    expect(at(intervalS)).toBeGreaterThan(0.6);
    // At the other interval that the README names there is nothing.
    expect(at(statedS === 1.166 ? 1.74 : 1.166)).toBeLessThan(0.1);
  });

  test('finds one stroke per feed interval, within 5 %', () => {
    const wrist = readWrist(path!);
    const intervalS = feedIntervalS(wrist);
    const strokes = playedSet(strokesOf(wrist), intervalS);
    const spanS = strokes.at(-1)!.atS - strokes[0]!.atS;
    const feeds = Math.round(spanS / intervalS) + 1;
    expect(feeds).toBeGreaterThan(35);
    expect(Math.abs(strokes.length / feeds - 1)).toBeLessThan(0.05);
    // Not only as many: all but these follow the one before by one feed.
    const gaps = strokes.slice(1).map(({ atS }, i) => (atS - strokes[i]!.atS) / intervalS);
    expect(gaps.filter((gap) => Math.abs(gap - 1) > 0.3).length).toBeLessThanOrEqual(offBeat);
  });
});
