import { describe, expect, it } from 'vitest';
import {
  addKeyframe,
  createTrack,
  cutAtRest,
  evaluateTrack,
} from '../../src/core/simulator/keyframe-track.ts';

/** At rest at 0 until 2 s, through 5 and back by 4 s, at rest until 6 s, away for good by 7 s. */
function track() {
  const made = createTrack(1);
  for (const [timeS, value] of [
    [0, 0],
    [2, 0],
    [3, 5],
    [4, 0],
    [6, 0],
    [7, 5],
  ] as const) {
    addKeyframe(made, timeS, [value]);
  }
  return made;
}

describe('cutAtRest', () => {
  it.each([
    [0, 0],
    [1.5, 1.5],
    [2, 2],
    [2.1, 4],
    [3.9, 4],
    [4, 4],
    [5, 5],
    [6, 6],
  ])('from %d s on it cuts at %d s, before that nothing changes', (fromS, cutS) => {
    const [whole, cut] = [track(), track()];
    expect(cutAtRest(cut, fromS, [0])).toBe(cutS);
    expect(cut.timesS.at(-1)).toBe(cutS);
    expect([cut.values.length, cut.velocities.length]).toEqual([
      cut.timesS.length,
      cut.timesS.length,
    ]);
    for (let t = 0; t <= cutS; t += 0.1) {
      const at = (of: typeof whole) => evaluateTrack(of, t, new Float64Array(1))[0]!;
      expect(at(cut)).toBeCloseTo(at(whole), 14);
    }
    expect(evaluateTrack(cut, 99, new Float64Array(1))[0]).toBe(0);
  });

  it('waits at the end of a track that ends at rest', () => {
    const made = createTrack(1);
    addKeyframe(made, 0, [3]);
    addKeyframe(made, 1, [0]);
    expect(cutAtRest(made, 9, [0])).toBe(9);
    addKeyframe(made, 10, [3]);
    const just = evaluateTrack(made, 9, new Float64Array(1))[0];
    expect(just).toBe(0);
  });

  it('passes by a keyframe with the right values but in motion', () => {
    const made = createTrack(1);
    addKeyframe(made, 0, [5]);
    addKeyframe(made, 1, [0], [-2]);
    addKeyframe(made, 2, [0]);
    expect(cutAtRest(made, 0.5, [0])).toBe(2);
  });

  it('refuses when the track never rests there again', () => {
    expect(() => cutAtRest(track(), 6.5, [0])).toThrow(RangeError);
  });
});
