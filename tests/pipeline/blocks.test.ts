import { describe, expect, it } from 'vitest';
import { blocksByCondition } from '../../src/core/pipeline/blocks.ts';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import { reviewPipeline } from '../../src/core/pipeline/review.ts';
import type { SetDescription } from '../../src/core/recording/set-description.ts';
import type { Condition, SetRecord } from '../../src/core/recording/set-record.ts';
import { simulatedSet } from './simulated-set.ts';

const { session, records } = simulatedSet({ swings: 6 });
const { description, truth } = session;
const SAME: Condition = {
  implement: description.implement,
  ball: description.ball,
  feed: '',
  implementLengthM: description.lengthsM.implement,
  implementSensorFromWristM: description.sensorFromJointM.implement,
  sweetSpotBand: description.sweetSpotBand,
};

/** The set with blocks that begin at these times. */
function withBlocks(blocks: readonly (readonly [atUs: number, condition: Condition])[]) {
  const begun = blocks.map(
    ([hostTimeUs, condition]): SetRecord => ({
      kind: 'event',
      hostTimeUs,
      event: { type: 'block-began', condition },
    }),
  );
  const all = [...records, ...begun].sort((a, b) => a.hostTimeUs - b.hostTimeUs);
  return run(description, all);
}

function run(head: SetDescription, all: readonly SetRecord[]) {
  const state = createPipeline(head);
  const zeros = all.flatMap((record) =>
    stepPipeline(state, record).flatMap((output) => (output.kind === 'zero' ? [output.zero] : [])),
  );
  return { state, zeros, live: viewPipeline(state), review: reviewPipeline(state) };
}

/** Half a second after the contact of a swing, from 0. */
const shortlyAfter = (swing: number) => truth.swings[swing]!.contactTimeUs + 5e5;

describe('blocks of a set', () => {
  it('are told apart by condition, each in the order of its first block', () => {
    const other = { ...SAME, ball: 'other' };
    const fed = { ...SAME, feed: 'by hand' };
    expect(blocksByCondition([SAME, other, other, SAME, fed])).toEqual([[0, 3], [1, 2], [4]]);
  });

  it('are one without more being said', () => {
    const { live } = run(description, records);
    expect(live.blocks).toEqual([SAME]);
    expect(live.swings.map(({ block }) => block)).toEqual([0, 0, 0, 0, 0, 0]);
    expect(live.funnel.n).toBe(6);
  });

  it('of two balls keep the zero, and the funnel is that of the last block and all like it', () => {
    const slow = { ...SAME, ball: 'slow' };
    const { live, review, zeros, state } = withBlocks([
      [shortlyAfter(1), slow],
      [shortlyAfter(3), SAME],
      [shortlyAfter(4), slow],
    ]);
    expect(live.swings.map(({ block }) => block)).toEqual([0, 0, 1, 1, 2, 3]);
    expect(zeros.filter(({ phase }) => phase === 'not-started')).toEqual([]);
    for (const { swing } of live.swings) expect(swing.voidReason).toBeNull();
    expect(live.funnel.n).toBe(3);
    expect(review.funnel.n).toBe(3);
    expect(reviewPipeline(state, 0).funnel.n).toBe(3);
    expect(reviewPipeline(state, 0).funnel.meanM[100]).not.toBe(review.funnel.meanM[100]);
  });

  it('of another implement need the poses again', () => {
    const { live, zeros } = withBlocks([[shortlyAfter(3), { ...SAME, implement: 'short racket' }]]);
    const last = zeros.at(-1)!;
    expect(last).toMatchObject({
      phase: 'not-started',
      problem: expect.stringMatching(/Another implement/),
    });
    expect(live.swings.map(({ swing }) => swing.voidReason)).toEqual([
      null,
      null,
      null,
      null,
      'not-zeroed',
      'not-zeroed',
    ]);
  });

  it('read an implement with its own length, as if the set had begun with it', () => {
    const longer: Condition = { ...SAME, implementLengthM: SAME.implementLengthM + 0.1 };
    const told = {
      ...description,
      lengthsM: { ...description.lengthsM, implement: longer.implementLengthM },
    };
    const { live } = withBlocks([[0, longer]]);
    const whole = run(told, records).live;
    expect(live.swings.map(({ swing }) => swing.reachM)).toEqual(
      whole.swings.map(({ swing }) => swing.reachM),
    );
    const before = run(description, records).live;
    expect(live.swings[0]!.swing.reachM).toBeGreaterThan(before.swings[0]!.swing.reachM + 0.05);
  });
});
