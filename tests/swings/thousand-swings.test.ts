import { describe, expect, it } from 'vitest';
import { READY_AFTER_S } from '../../src/core/simulator/plan-swing.ts';
import { DEFAULT_ERRORS } from '../../src/core/simulator/sensor-errors.ts';
import type { InterludeName, SessionOptions } from '../../src/core/simulator/session-types.ts';
import { simulateSensors } from '../../src/core/simulator/simulate-session.ts';
import { sessionOptions } from '../simulator/session-options.ts';
import { type FoundStroke, strokesOfImplement } from './detect-strokes.ts';

const HEAD = { setId: 'thousand', startedAtMs: 0, programVersion: 'test' };
const INTERLUDES: readonly InterludeName[] = [
  'bounces',
  'taps',
  'practice-swing',
  'walk',
  'twirl',
  'drop',
];

/** Design section 13: contact within 3 ms of the truth, no swing missed, no false swing in 1000. */
const CONTACT_MS = 3;
/** An air swing is at its fastest about where the ball would have been met; the wrist may be thrown beyond it. */
const AIR_MS = 200;

type Set = Pick<SessionOptions, 'seed' | 'strategy' | 'implement' | 'handedness'>;

const SETS: readonly Set[] = [
  { seed: 701, strategy: 'distal', implement: 'short', handedness: 'right' },
  { seed: 702, strategy: 'frozen', implement: 'full', handedness: 'right' },
  { seed: 703, strategy: 'distal', implement: 'long', handedness: 'left' },
  { seed: 704, strategy: 'frozen', implement: 'short', handedness: 'left' },
  { seed: 705, strategy: 'distal', implement: 'full', handedness: 'right' },
];

/** 200 swings with something else between any two, all sensor errors of design section 12. */
function play(set: Set) {
  const sensors = simulateSensors(
    sessionOptions({
      ...set,
      swings: 200,
      swingIntervalS: 4,
      errors: DEFAULT_ERRORS,
      interludes: INTERLUDES,
    }),
    HEAD,
  );
  const found = strokesOfImplement(sensors);
  return {
    sensors,
    contacts: found.filter(({ isAir }) => !isAir),
    airSwings: found.filter(({ isAir }) => isAir),
  };
}

/** For each true instant, how far off the strokes nearby are, ms. */
function offsetsMs(found: readonly FoundStroke[], trueS: readonly number[], withinS: number) {
  return trueS.map((s) =>
    found.filter(({ atS }) => Math.abs(atS - s) < withinS).map(({ atS }) => 1000 * (atS - s)),
  );
}

// The implement's samples alone, so that a thousand swings take seconds; the whole way from bytes is in
// tests/pipeline/air-swings.test.ts.
describe('detectStroke in 1000 swings with bounces, taps, practice swings, walks, twirls and drops', () => {
  it.each(SETS)(
    'misses none and invents none ($strategy, $implement implement, seed $seed)',
    (set) => {
      const { sensors, contacts, airSwings } = play(set);
      const struck = offsetsMs(
        contacts,
        sensors.swings.map(({ contactTimeUs }) => contactTimeUs / 1e6),
        0.1,
      );
      expect(struck.filter((near) => near.length !== 1)).toEqual([]);
      expect(contacts.length).toBe(200);
      expect(Math.max(...struck.flat().map(Math.abs))).toBeLessThan(CONTACT_MS);

      const practice = sensors.interludes.filter(({ name }) => name === 'practice-swing');
      // one in six of 200: 33 with an SD of 5
      expect(practice.length).toBeGreaterThan(15);
      const swung = offsetsMs(
        airSwings,
        practice.map(({ toUs }) => toUs / 1e6 - READY_AFTER_S),
        0.5,
      );
      expect(swung.filter((near) => near.length !== 1)).toEqual([]);
      expect(airSwings.length).toBe(practice.length);
      expect(Math.max(...swung.flat().map(Math.abs))).toBeLessThan(AIR_MS);
      for (const name of INTERLUDES) {
        expect(sensors.interludes.filter((other) => other.name === name).length).toBeGreaterThan(
          15,
        );
      }
    },
    60_000,
  );
});
