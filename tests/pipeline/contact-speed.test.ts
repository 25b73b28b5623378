import { describe, expect, it } from 'vitest';
import { SEGMENTS } from '../../src/core/arm/segments.ts';
import { rotate } from '../../src/core/maths/quaternion.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import { createPipeline, stepPipeline } from '../../src/core/pipeline/pipeline.ts';
import { simulatedSet } from './simulated-set.ts';

const BEFORE_US = 500;

// No outside reference: the simulator's movement is in closed form, its sensors have the errors of ordinary parts.
describe('the speed of the sweet spot at contact', () => {
  it.each(['distal', 'frozen'] as const)('is that of the %s player', (strategy) => {
    const { session, records } = simulatedSet({ swings: 12, strategy });
    const { truth, description } = session;
    const sweetSpotAt = (timeUs: number): number[] => {
      const parts = SEGMENTS.map((segment) =>
        rotate(
          vector3(),
          truth.sensors[segment].qCourtFromSegmentAt(timeUs),
          vector3(description.lengthsM[segment]),
        ),
      );
      return [0, 1, 2].map((i) => parts.reduce((sum, part) => sum + part[i]!, 0));
    };
    const trueSpeedMS = (atUs: number): number => {
      const before = sweetSpotAt(atUs - BEFORE_US);
      const at = sweetSpotAt(atUs);
      return Math.hypot(...at.map((x, i) => (x - before[i]!) / (BEFORE_US * 1e-6)));
    };
    const state = createPipeline(description);
    for (const record of records) stepPipeline(state, record);
    const ratios = state.swings.map(
      ({ reading }, i) =>
        reading.swing.sweetSpotSpeedMS / trueSpeedMS(truth.swings[i]!.contactTimeUs),
    );
    expect(ratios).toHaveLength(12);
    const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length;
    // The gyroscopes' scale alone is 0.7 % off, contact as found half a sampling interval.
    expect(Math.abs(mean - 1)).toBeLessThan(0.015);
    expect(Math.max(...ratios.map((ratio) => Math.abs(ratio - 1)))).toBeLessThan(0.06);
  });
});
