import { describe, expect, it } from 'vitest';
import { kitWords } from '../../src/screens/start/set-words.ts';
import type { SetSummary } from '../../src/worker/contract.ts';

const SET: SetSummary = {
  setId: 'a',
  startedAtMs: 0,
  source: 'sensors',
  player: 'Player A',
  implement: 'small',
  ball: 'soft',
  swings: 20,
  sizeBytes: 1,
};

describe('kitWords', () => {
  it('names the kit of a set with one', () => {
    expect(kitWords(SET)).toBe('small, soft');
  });

  it('names every kit of a set with several', () => {
    const kits = [
      { implement: 'small', ball: 'soft' },
      { implement: 'large', ball: 'soft' },
    ];
    expect(kitWords({ ...SET, kits })).toBe('small, soft · large, soft');
  });
});
