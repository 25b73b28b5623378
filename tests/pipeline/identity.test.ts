import { describe, expect, it } from 'vitest';
import type { Segment } from '../../src/core/arm/segments.ts';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import { reviewSwings } from '../../src/core/pipeline/review.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { DEFAULT_ERRORS, type SensorErrors } from '../../src/core/simulator/sensor-errors.ts';
import type { SessionOptions } from '../../src/core/simulator/session-types.ts';
import { simulatedSet } from './simulated-set.ts';

type Records = (records: readonly SetRecord[]) => readonly SetRecord[];

/** A simulated set with faults, played through the pipeline against its truth. */
function play(
  change: Partial<SessionOptions>,
  faults: Partial<SensorErrors>,
  edit: Records = (records) => records,
) {
  const errors = { ...DEFAULT_ERRORS, ...faults };
  const { session, records } = simulatedSet({ implement: 'short', ...change, errors });
  const state = createPipeline(session.description);
  const problems: string[] = [];
  /** How many swings had ended when the first problem was told. */
  let swingsBefore = Number.NaN;
  for (const record of edit(records)) {
    for (const output of stepPipeline(state, record)) {
      if (output.kind === 'zero' && 'problem' in output.zero && output.zero.problem !== null) {
        if (problems.length === 0) swingsBefore = state.swings.length;
        problems.push(output.zero.problem);
      }
    }
  }
  const view = viewPipeline(state);
  const swings = view.swings.map(({ swing }) => {
    const truth = session.truth.swings.find(
      (t) => Math.abs(t.contactTimeUs - swing.contactTimeUs) < 1e5,
    )!;
    return { swing, reason: swing.voidReason, errorM: swing.reachM - truth.reachM };
  });
  return {
    state,
    view,
    problems,
    swingsBefore,
    swings,
    reasons: swings.map(({ reason }) => reason),
  };
}

const SEGMENTS = ['upperArm', 'forearm', 'implement'] as const;
const WORDS = { upperArm: 'upper arm', forearm: 'forearm', implement: 'implement' } as const;
const ACROSS = [0, 1, 0] as const;

describe('sensors swapped', () => {
  it.each([
    ['upperArm', 'forearm'],
    ['forearm', 'implement'],
    ['upperArm', 'implement'],
  ] as const)('%s and %s: named with the poses or the first swing, no swing read', (a, b) => {
    for (const strategy of ['distal', 'frozen'] as const) {
      const { view, problems, reasons } = play({ strategy, swings: 2 }, { swapped: [a, b] });
      expect(problems).toHaveLength(1);
      expect(problems[0]).toMatch(new RegExp(`${WORDS[a]} and ${WORDS[b]} sensors .*swapped`));
      expect(view.zero).toEqual({ phase: 'not-started', problem: problems[0] });
      for (const reason of reasons) expect(reason).toBe('swapped');
    }
  });
});

describe('a sensor turned upside down', () => {
  it.each(SEGMENTS)('%s: named after one swing when turned between the poses', (segment) => {
    const slip = {
      segment,
      atS: 4.8,
      lastsS: Number.POSITIVE_INFINITY,
      angleDeg: 180,
      axis: ACROSS,
    };
    const { problems, reasons } = play({ swings: 2, seed: 4 }, { slip });
    expect(problems).toHaveLength(1);
    expect(problems[0]).toContain(`The ${WORDS[segment]} sensor`);
    expect(reasons).toEqual(['slipped', 'slipped']);
  });

  it.each(SEGMENTS)('%s: does not matter when it was put on so', (segment) => {
    const slip = {
      segment,
      atS: -10,
      lastsS: Number.POSITIVE_INFINITY,
      angleDeg: 180,
      axis: ACROSS,
    };
    const { problems, swings } = play({ swings: 2, seed: 4 }, { slip });
    expect(problems).toEqual([]);
    for (const { errorM } of swings) expect(Math.abs(errorM)).toBeLessThan(0.02);
  });
});

describe('a loose sensor', () => {
  const SWINGS = 13;
  const AT_S = 34;
  const EARLIER = 5; // swings before that

  it.each(SEGMENTS)('%s slipped by 20 degrees: named and no swing read', (segment) => {
    for (const axis of [ACROSS, [0, 0, 1] as const]) {
      const slip = { segment, atS: AT_S, lastsS: Number.POSITIVE_INFINITY, angleDeg: 20, axis };
      const set = { swings: SWINGS, seed: 6, strategy: 'distal' } as const;
      const { state, view, problems, swingsBefore, swings, reasons } = play(set, { slip });
      const first = swings.findIndex(({ swing }) => swing.contactTimeUs > AT_S * 1e6);
      expect(problems).toHaveLength(1);
      expect(problems[0]).toContain(WORDS[segment]);
      // a short lever and slow turning make the upper arm the hardest to see
      expect(swingsBefore - first).toBeLessThanOrEqual(segment === 'upperArm' ? 8 : 3);
      expect(view.zero.phase).toBe('not-started');
      // none after the slip keeps its reach, in review neither; few from before lose it
      expect(new Set(reasons.slice(first))).toEqual(new Set(['slipped']));
      const spoilt = segment === 'upperArm' ? 4 : 2;
      expect(reasons.slice(0, first - spoilt)).toEqual(Array(first - spoilt).fill(null));
      expect(reviewSwings(state).map(({ swing }) => swing.voidReason)).toEqual(reasons);
      expect(view.funnel.n).toBe(reasons.filter((reason) => reason === null).length);
      expect(first).toBe(EARLIER);
    }
  });

  it.each([2, 6])('that comes back after one swing spoils none unseen (seed %i)', (seed) => {
    const { session } = simulatedSet({ implement: 'short', swings: SWINGS, seed });
    const atS = session.truth.swings[7]!.contactTimeUs / 1e6 - 1.3;
    const slip = { segment: 'upperArm', atS, lastsS: 2, angleDeg: 20, axis: ACROSS } as const;
    const { swings, reasons } = play({ swings: SWINGS, seed }, { slip });
    expect(reasons[7]).toBe('slipped');
    expect(reasons.slice(0, 6)).toEqual(Array(6).fill(null));
    for (const { reason, errorM } of swings) {
      if (reason === null) expect(Math.abs(errorM)).toBeLessThan(0.02);
    }
  });

  it('about its own segment leaves the reach right', () => {
    const slip = {
      segment: 'forearm',
      atS: AT_S,
      lastsS: Number.POSITIVE_INFINITY,
      angleDeg: 20,
      axis: [1, 0, 0],
    } as const;
    const { problems, swings } = play({ swings: SWINGS, seed: 6 }, { slip });
    expect(problems).toEqual([]);
    for (const { reason, errorM } of swings) {
      if (reason === null) expect(Math.abs(errorM)).toBeLessThan(0.02);
    }
  });

  it('is not seen where nothing is loose, soft tissue or not', () => {
    // `npm run accuracy` counts void swings over all its sets
    for (const wobbleDeg of [0, 3]) {
      const { problems, reasons } = play(
        { swings: 20, seed: 2, strategy: 'frozen' },
        { wobbleDeg },
      );
      expect(problems).toEqual([]);
      expect(new Set(reasons)).toEqual(new Set([null]));
    }
  });
});

describe('a pose held badly', () => {
  type Row = [NonNullable<SensorErrors['badPose']>, RegExp];
  const TABLE = SEGMENTS.flatMap((segment) =>
    (['plumb', 'point'] as const).map(
      (pose): Row => [
        { pose, segment, forwardDeg: 20, sidewaysDeg: 0 },
        new RegExp(`^${WORDS[segment]} \\d+° (above|below)`),
      ],
    ),
  );
  it.each(TABLE)('$pose of $segment 20 degrees off is refused and named', (badPose, words) => {
    const { view, problems, reasons } = play({ swings: 1, seed: 3 }, { badPose });
    expect(problems[0]).toMatch(words);
    expect(view.zero.phase).toBe('point');
    expect(reasons).toEqual(['not-zeroed']);
  });

  it.each(SEGMENTS)(
    'pointing with %s 20 degrees sideways is put right by the swings',
    (segment) => {
      const badPose = { pose: 'point', segment, forwardDeg: 0, sidewaysDeg: 20 } as const;
      const { problems, swings } = play({ swings: 4, seed: 3 }, { badPose });
      expect(problems).toEqual([]);
      for (const { errorM } of swings) expect(Math.abs(errorM)).toBeLessThan(0.02);
    },
  );

  it('an implement hanging 30 degrees sideways is found by the swings', () => {
    const badPose = {
      pose: 'plumb',
      segment: 'implement',
      forwardDeg: 0,
      sidewaysDeg: 30,
    } as const;
    const { problems, reasons } = play({ swings: 6, seed: 3 }, { badPose });
    expect(problems[0]).toMatch(/implement sensor .*hung askew/);
    expect(new Set(reasons)).toEqual(new Set(['slipped']));
  });
});

it('a set without poses says so and reads no swing', () => {
  const { view, reasons } = play({ swings: 3 }, { poses: false });
  expect(view.zero.phase).not.toBe('zeroed');
  expect(reasons).toEqual(['not-zeroed', 'not-zeroed', 'not-zeroed']);
  expect(view.funnel.n).toBe(0);
});

/** All notifications of one sensor between two times lost. */
const silence =
  (segment: Segment, fromS: number, toS: number): Records =>
  (records) =>
    records.filter(
      (r) =>
        r.kind !== 'notification' ||
        r.segment !== segment ||
        r.hostTimeUs < fromS * 1e6 ||
        r.hostTimeUs > toS * 1e6,
    );

describe('the court after a long silence', () => {
  it.each(['upperArm', 'forearm'] as const)('of the %s sensor', (segment) => {
    const { swings } = play({ swings: 10 }, {}, silence(segment, 24, 34));
    const late = swings.filter(
      ({ swing, reason }) => swing.contactTimeUs > 34e6 && reason === null,
    );
    expect(late.length).toBeGreaterThanOrEqual(2);
    for (const { swing, errorM } of late) {
      expect(Math.abs(errorM)).toBeLessThan(0.02);
      const isLost = segment === 'upperArm'; // the court hangs on the upper arm's earth frame
      expect(swing.courtHeadingKnown).toBe(!isLost);
      expect(Number.isNaN(swing.frontalReachM)).toBe(isLost);
      expect(Number.isNaN(swing.sagittalReachM)).toBe(isLost);
      expect(swing.horizontalReachM).toBeGreaterThan(0);
    }
  });
});
