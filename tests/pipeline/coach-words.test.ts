import { describe, expect, it } from 'vitest';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import { readEvent } from '../../src/core/recording/event-json.ts';
import type { SetEvent } from '../../src/core/recording/set-record.ts';
import { simulatedSet } from './simulated-set.ts';

const { session, records } = simulatedSet({ swings: 2 });

function viewAfter(events: readonly (readonly [hostTimeUs: number, event: SetEvent])[]) {
  const state = createPipeline(session.description);
  for (const record of records) stepPipeline(state, record);
  for (const [hostTimeUs, event] of events) {
    stepPipeline(state, { kind: 'event', hostTimeUs, event: readEvent(event) });
  }
  return viewPipeline(state);
}

const lastUs = records.at(-1)!.hostTimeUs;

describe('what the coach says in a set', () => {
  it('keeps notes in order, but for one taken back', () => {
    const view = viewAfter([
      [lastUs + 1e6, { type: 'note', text: 'grip slipped' }],
      [lastUs + 2e6, { type: 'note', text: 'tired' }],
      [lastUs + 3e6, { type: 'note-withdrawn', noteTimeUs: lastUs + 1e6 }],
      [lastUs + 4e6, { type: 'note', text: 'better' }],
    ]);
    expect(view.notes).toEqual([
      { atUs: lastUs + 2e6, text: 'tired' },
      { atUs: lastUs + 4e6, text: 'better' },
    ]);
  });

  it('knows which swing the player was told of', () => {
    const contactTimeUs = session.truth.swings[1]!.contactTimeUs;
    const view = viewAfter([[lastUs, { type: 'cued', contactTimeUs, cue: 'tone' }]]);
    expect(view.swings.map(({ cued }) => cued)).toEqual([false, true]);
  });

  it('keeps where a ball landed, the last that was said, until it is taken back', () => {
    const contactTimeUs = session.truth.swings[0]!.contactTimeUs;
    const landed = (beyondM: number): SetEvent => ({
      type: 'landed',
      contactTimeUs,
      beyondM,
      leftM: 0.5,
    });
    const told = [
      [lastUs + 1e6, landed(-0.4)],
      [lastUs + 2e6, landed(0.3)],
    ] as const;
    expect(viewAfter(told).swings.map(({ landingM }) => landingM)).toEqual([[0.3, 0.5], null]);
    const withdrawn = [lastUs + 3e6, { type: 'landing-withdrawn', contactTimeUs }] as const;
    expect(viewAfter([...told, withdrawn]).swings.map(({ landingM }) => landingM)).toEqual([
      null,
      null,
    ]);
  });

  it('refuses a cue of another kind by its name', () => {
    expect(() => readEvent({ type: 'cued', contactTimeUs: 1, cue: 'horn' })).toThrow(/the cue/);
  });
});
