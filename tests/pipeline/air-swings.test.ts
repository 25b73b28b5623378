import { describe, expect, it } from 'vitest';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import { reviewSwings } from '../../src/core/pipeline/review.ts';
import { simulatedSet } from './simulated-set.ts';

// From the bytes of three sensors to swings: 30 swings with something else after each.
const { session, records } = simulatedSet({
  seed: 31,
  swings: 30,
  swingIntervalS: 4,
  interludes: ['bounces', 'taps', 'practice-swing', 'walk', 'twirl', 'drop', 'practice-swing'],
});
const { truth } = session;
const practice = truth.interludes.filter(({ name }) => name === 'practice-swing');

function run() {
  const state = createPipeline(session.description);
  const told = records.flatMap((record) => stepPipeline(state, record));
  return { state, told };
}

describe('a set with practice swings, bounces, taps, walks, twirls and drops', () => {
  const { state, told } = run();
  const view = viewPipeline(state);
  const swings = view.swings.map(({ swing }) => swing);
  const air = swings.filter(({ voidReason }) => voidReason === 'air-swing');
  const struck = swings.filter(({ voidReason }) => voidReason !== 'air-swing');

  it('gives every swing at a ball and no other', () => {
    expect(struck.length).toBe(30);
    struck.forEach((swing, i) => {
      expect(Math.abs(swing.contactTimeUs - truth.swings[i]!.contactTimeUs)).toBeLessThan(3000);
    });
  });

  // A fault once: whoever twirled or dropped the implement was told that its sensor had slipped, and the zero was lost.
  it('reads the reach of all of them: no drop or twirl is taken for a sensor that slipped', () => {
    expect(view.zero.phase).toBe('zeroed');
    struck.forEach(({ voidReason, reachM }, i) => {
      expect(voidReason).toBeNull();
      // twice the goal for the SD of an undisturbed set, and its mean error
      expect(Math.abs(reachM - truth.swings[i]!.reachM)).toBeLessThan(2 * 0.006 + 0.01);
    });
  });

  it('lists every practice swing as an air swing, in order, and nothing else as one', () => {
    expect(practice.length).toBeGreaterThan(4);
    expect(new Set(truth.interludes.map(({ name }) => name)).size).toBe(6);
    expect(air.length).toBe(practice.length);
    air.forEach(({ contactTimeUs }, i) => {
      expect(contactTimeUs).toBeGreaterThan(practice[i]!.fromUs);
      expect(contactTimeUs).toBeLessThan(practice[i]!.toUs);
    });
    expect(swings.map(({ index }) => index)).toEqual(swings.map((_, i) => i));
    const times = swings.map(({ contactTimeUs }) => contactTimeUs);
    expect(times).toEqual([...times].sort((a, b) => a - b));
  });

  it('tells of each as it happens and leaves air swings out of the funnel', () => {
    const heard = told.flatMap((output) => (output.kind === 'swing' ? [output.swing] : []));
    expect(heard.length).toBe(swings.length);
    const known = struck.filter(({ voidReason }) => voidReason === null).length;
    expect(view.funnel.n).toBe(known);
    for (const { reachM, sweetSpotSpeedMS } of air)
      expect([reachM, sweetSpotSpeedMS]).toEqual([NaN, NaN]);
  });

  it('keeps them in review', () => {
    const reasons = reviewSwings(state).map(({ swing }) => swing.voidReason);
    expect(reasons).toEqual(swings.map(({ voidReason }) => voidReason));
  });
});
