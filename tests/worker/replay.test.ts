import { describe, expect, it } from 'vitest';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import { readSet } from '../../src/core/recording/set-reader.ts';
import { Replay } from '../../src/worker/replay.ts';
import type { SetPipeline } from '../../src/worker/set-ports.ts';
import { simulatedSet } from '../pipeline/simulated-set.ts';
import { setFile } from '../recording/sample-set.ts';

const { session, records } = simulatedSet({ swings: 3 });
const file = readSet(setFile(records, session.description));
if (!file.ok) throw new Error(file.error.message);
const { set } = file;

const pipeline: SetPipeline = {
  build: 'test',
  resume: () => {
    throw new Error('nothing was kept');
  },
  start: (description) => {
    const state = createPipeline(description);
    return {
      step: (record) => void stepPipeline(state, record),
      finished: () => null,
      view: () => viewPipeline(state),
      review: () => viewPipeline(state),
      measures: () => [],
      swingsLike: () => [],
      trace: () => null,
    };
  },
};

/** What was on the screen then, from the records alone. */
function seenAt(hostTimeUs: number) {
  const state = createPipeline(set.description);
  for (const record of set.records) {
    if (record.hostTimeUs > hostTimeUs) break;
    stepPipeline(state, record);
  }
  return viewPipeline(state);
}

describe('a set played again', () => {
  const afterSecond = session.truth.swings[1]!.contactTimeUs + 1e6;

  it('shows what was seen at that time, in steps of any size', () => {
    const inOne = new Replay(set, pipeline).goTo(afterSecond).view();
    const inSteps = new Replay(set, pipeline);
    for (let us = 0; us < afterSecond; us += 333_333) inSteps.goTo(us);
    expect(inOne.swings).toHaveLength(2);
    expect(inSteps.goTo(afterSecond).view()).toEqual(inOne);
    expect(inOne).toEqual(seenAt(afterSecond));
  });

  it('goes back as well', () => {
    const replay = new Replay(set, pipeline);
    expect(replay.goTo(replay.endUs).view().swings).toHaveLength(3);
    expect(replay.goTo(afterSecond).view()).toEqual(seenAt(afterSecond));
  });
});
