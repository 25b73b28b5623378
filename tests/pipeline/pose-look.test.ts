import { describe, expect, it } from 'vitest';
import { SEGMENTS } from '../../src/core/arm/segments.ts';
import { quaternion, rotate } from '../../src/core/maths/quaternion.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import type { LiveView } from '../../src/core/pipeline/outputs.ts';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import { simulatedSet } from './simulated-set.ts';

// The virtual player hangs the arm until 4.2 s, raises it until 5.4 s and points until 8.6 s (virtual-player.ts).
const { session, records } = simulatedSet({ swings: 1 });
const views: LiveView[] = [];
{
  const state = createPipeline(session.description);
  let dueUs = 1.5e6;
  for (const record of records) {
    stepPipeline(state, record);
    if (record.hostTimeUs < dueUs) continue;
    views.push(viewPipeline(state));
    dueUs += 100_000;
  }
}
const at = (seconds: number): LiveView =>
  views.find((view) => view.hostTimeUs >= seconds * 1e6) as LiveView;

/** Elevation of a segment by the simulator's truth, degrees. */
function trueElevationDeg(segment: (typeof SEGMENTS)[number], hostTimeUs: number): number {
  const q = session.truth.sensors[segment].qCourtFromSegmentAt(hostTimeUs);
  const along = rotate(vector3(), quaternion(...q), vector3(1, 0, 0));
  return (Math.asin(along[2]!) * 180) / Math.PI;
}

describe('the live look at the poses', () => {
  it('tells how much of the hold is done and that every sensor is still', () => {
    const early = at(1.7).pose!;
    const later = at(2.6).pose!;
    expect(early.isStill).toEqual({ upperArm: true, forearm: true, implement: true });
    expect(early.elevationRad.implement).toBeNaN();
    expect(later.holdShare).toBeGreaterThan(early.holdShare);
    expect(later.holdShare).toBeLessThanOrEqual(1);
  });

  it('shows each segment as steep as it is, to 6 degrees, while the arm is raised and held', () => {
    // poses are off by some degrees, and the long axes are known only from the first of them
    for (const seconds of [4.6, 5, 5.6, 6]) {
      const view = at(seconds);
      // the view is of the newest instant that all three sensors have reached: radio delays are below 60 ms,
      // packets span 95 ms, and the arm rises by up to 140 degrees a second
      for (const segment of SEGMENTS) {
        const shown = (view.pose!.elevationRad[segment] * 180) / Math.PI;
        const around = [0, 60_000, 120_000, 180_000, 240_000].map((ago) =>
          trueElevationDeg(segment, view.hostTimeUs - ago),
        );
        const off = Math.max(Math.min(...around) - shown, shown - Math.max(...around));
        expect(off).toBeLessThan(6);
      }
    }
    expect(at(4.8).pose!.isStill.implement).toBe(false);
  });

  it('is gone once the arm is zeroed', () => {
    expect(at(8.6).zero.phase).toBe('zeroed');
    expect(at(8.6).pose).toBeNull();
  });
});
