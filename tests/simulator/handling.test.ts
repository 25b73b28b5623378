import { describe, expect, it } from 'vitest';
import { SEGMENTS, type Segment } from '../../src/core/arm/segments.ts';
import { DEG_PER_RAD, wrapAngle } from '../../src/core/maths/angles.ts';
import { rotate } from '../../src/core/maths/quaternion.ts';
import { seededRandom } from '../../src/core/maths/random.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import type {
  Handling,
  SessionOptions,
  SimulatedSession,
} from '../../src/core/simulator/session-types.ts';
import { simulateSensors, simulateSession } from '../../src/core/simulator/simulate-session.ts';
import { planMovement } from '../../src/core/simulator/virtual-player.ts';
import { sessionOptions } from './session-options.ts';

const HEAD = { setId: 'handling', startedAtMs: 0, programVersion: 'test' };
const FITS: Handling = { strategy: 'distal', unsteadiness: 1, mistiming: 1 };
const STIFF: Handling = { ...FITS, strategy: 'frozen' };
const FULL = { implement: 'full', ball: 'standard' } as const;

const simulate = (change: Partial<SessionOptions>): SimulatedSession =>
  simulateSession(sessionOptions({ swingIntervalS: 4, ...change }), HEAD);

/** Turn about the vertical of a segment at a time, radians: the truth. */
function turnOf({ truth }: SimulatedSession, segment: Segment, timeUs: number): number {
  const q = truth.sensors[segment].qCourtFromSegmentAt(timeUs);
  const [x, y] = rotate(vector3(), q, vector3(1, 0, 0));
  return Math.atan2(y!, x!);
}

/** How far forearm turns against upper arm from start to contact, degrees, each swing. */
function elbowTurns(session: SimulatedSession): number[] {
  const elbow = (timeUs: number) =>
    turnOf(session, 'forearm', timeUs) - turnOf(session, 'upperArm', timeUs);
  return session.truth.swings.map(
    ({ startTimeUs, contactTimeUs }) =>
      Math.abs(wrapAngle(elbow(contactTimeUs) - elbow(startTimeUs))) * DEG_PER_RAD,
  );
}

function sd(values: readonly number[]): number {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return Math.sqrt(values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (values.length - 1));
}

const reachesOf = ({ truth }: SimulatedSession) => truth.swings.map(({ reachM }) => reachM);

/** Every step as text: sensors' bytes in hexadecimal. */
const asText = ({ steps }: SimulatedSession): string[] =>
  [...steps].map((step) =>
    step.kind === 'record' && step.record.kind !== 'event'
      ? `${step.record.hostTimeUs} ${Buffer.from(step.record.bytes).toString('hex')}`
      : JSON.stringify(step),
  );

describe('handling', () => {
  it('that says what holds anyway leaves every byte as it is, in later blocks too', () => {
    const change = { swings: 1, laterBlocks: [{ ...FULL, swings: 1 }] };
    const usual = { short: FITS, full: { ...FITS, unsteadiness: 1.3 } };
    const [without, told] = [simulate(change), simulate({ ...change, handling: usual })];
    expect(asText(told)).toEqual(asText(without));
  });

  it.each([
    ['first', { implement: 'full', ball: 'standard' }, { implement: 'short', ball: 'training' }],
    ['later', { implement: 'short', ball: 'training' }, { implement: 'full', ball: 'standard' }],
  ] as const)('stiffens the elbow with one implement alone, in the %s block', (_, first, then) => {
    const session = simulate({
      ...first,
      swings: 6,
      laterBlocks: [{ ...then, swings: 6 }],
      handling: { full: STIFF, short: FITS },
    });
    const turned = elbowTurns(session);
    const [stiff, free] =
      first.implement === 'full'
        ? [turned.slice(0, 6), turned.slice(6)]
        : [turned.slice(6), turned.slice(0, 6)];
    // MEASURES.freezing: below 20 degrees an elbow counts as held still
    expect(Math.max(...stiff)).toBeLessThan(20);
    expect(Math.min(...free)).toBeGreaterThan(20);
  });

  it.each(['distal', 'frozen', 'coupled', 'proximal'] as const)(
    'widens the true spread of reach as unsteadiness says (%s)',
    (strategy) => {
      const spread = (unsteadiness: number) => {
        const handling = { short: { ...FITS, strategy, unsteadiness } };
        return sd(reachesOf(simulate({ seed: 8, swings: 30, handling })));
      };
      // The same random numbers, twice as large; sway and the curvature of reach leave a tenth and more.
      expect(spread(1) / spread(0.5)).toBeGreaterThan(1.7);
      expect(spread(1) / spread(0.5)).toBeLessThan(2.3);
    },
  );

  it.each([
    ['proximal', 'upperArm', 'implement'],
    ['frozen', 'implement', 'upperArm'],
  ] as const)(
    'with a stiff elbow %s: %s varies more than %s at contact',
    (strategy, more, less) => {
      const session = simulate({ swings: 30, handling: { short: { ...FITS, strategy } } });
      const varies = (segment: Segment) =>
        sd(session.truth.swings.map((swing) => turnOf(session, segment, swing.contactTimeUs)));
      // 8 against 3 degrees, and 9 against 2.5: with 30 swings an SD is known to 13 %
      expect(varies(more) / varies(less)).toBeGreaterThan(1.8);
    },
  );

  it('coupled, the upper arm is the steadiest part, and forearm and implement go along with it', () => {
    const session = simulate({ swings: 30, handling: { short: { ...FITS, strategy: 'coupled' } } });
    const [upperArm, forearm, implement] = SEGMENTS.map((segment) =>
      session.truth.swings.map((swing) => turnOf(session, segment, swing.contactTimeUs)),
    ) as [number[], number[], number[]];
    // 3 against 7.9 degrees
    expect(sd(forearm) / sd(upperArm)).toBeGreaterThan(1.8);
    // what goes along is gone when it is taken off: 1.5 and 1.3 times the turn of the part before
    const apart = (of: number[], times: number, before: number[]) =>
      sd(of.map((turn, i) => turn - times * before[i]!)) / sd(of);
    // a correlation of 0.57, and of 0.9 with what steering adds
    expect(apart(forearm, 1.5, upperArm)).toBeLessThan(0.95);
    expect(apart(implement, 1.3, forearm)).toBeLessThan(0.5);
  });

  it('makes timing errors as much larger as mistiming says, and balls score less', () => {
    const timed = (mistiming: number) =>
      sessionOptions({ seed: 9, swings: 40, handling: { short: { ...FITS, mistiming } } });
    const errorsS = (mistiming: number) =>
      planMovement(timed(mistiming), seededRandom(9)).swings.map((swing) => swing.timingErrorS);
    const [usual, worse] = [errorsS(1), errorsS(3)];
    usual.forEach((errorS, i) => {
      expect(worse[i]).toBeCloseTo(3 * errorS, 12);
    });
    const mean = (mistiming: number) => {
      const { landings } = simulateSensors(timed(mistiming), HEAD);
      return landings.reduce((sum, { landing }) => sum + landing.points, 0) / landings.length;
    };
    expect(mean(3)).toBeLessThan(mean(1) - 1);
  });

  it('with errors of a negative size is refused by name', () => {
    expect(() => simulate({ handling: { full: { ...FITS, unsteadiness: -1 } } })).toThrow(
      "unsteadiness and mistiming with 'full' must be 0 or more, got -1 and 1",
    );
    expect(() => simulate({ handling: { short: { ...FITS, mistiming: Number.NaN } } })).toThrow(
      RangeError,
    );
  });
});
