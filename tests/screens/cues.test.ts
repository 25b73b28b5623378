import { describe, expect, it } from 'vitest';
import type { FeedbackPlan } from '../../src/core/recording/set-plan.ts';
import { cueOf } from '../../src/screens/court/cues.ts';
import { endPitchHz } from '../../src/screens/court/sound.ts';
import { reaching } from './court-swings.ts';

const band = { reachM: 0.9, halfWidthM: 0.03 };
const planWith = (feedback: FeedbackPlan) => ({
  task: '',
  target: null,
  conditions: [],
  blocks: [0, 1, 1, 0],
  order: 'mirrored' as const,
  orderSeed: null,
  swingsPerBlock: 4,
  feedback,
  cautionsConfirmedAtMs: 0,
});
const spokenAlways = planWith({ cue: 'speech', isOnlyOffBand: false, isFading: false });

describe('what the player hears of a swing', () => {
  it('is good, or the side and the whole centimetres beyond the band, at least one', () => {
    const words = (reachM: number) => {
      const swing = reaching(1, reachM);
      return cueOf(spokenAlways, band, [swing], swing)?.words;
    };
    expect(words(0.91)).toBe('good');
    expect(words(0.83)).toBe('short 4');
    expect(words(0.932)).toBe('long 1');
  });

  it('is nothing in the band when only misses are told, and nothing of a swing without a reach', () => {
    const plan = planWith({ cue: 'tone', isOnlyOffBand: true, isFading: false });
    const good = reaching(1, 0.9);
    const off = reaching(2, 0.95);
    expect(cueOf(plan, band, [good], good)).toBeNull();
    expect(cueOf(plan, band, [good, off], off)?.kind).toBe('tone');
    const lost = { ...off, swing: { ...off.swing, voidReason: 'sensor-gap' as const } };
    expect(cueOf(plan, band, [lost], lost)).toBeNull();
  });

  it('fades from every swing in the first block to one in four in the last', () => {
    const plan = planWith({ cue: 'speech', isOnlyOffBand: false, isFading: true });
    const told = (block: number): number => {
      const swings = [1, 2, 3, 4].map((number) => reaching(4 * block + number, 0.95, block));
      return swings.filter((swing) => cueOf(plan, band, swings, swing) !== null).length;
    };
    expect([told(0), told(3)]).toEqual([4, 1]);
  });

  it('says the reach itself while no band is known, and no tone, which could not tell it', () => {
    const swing = reaching(1, 0.876);
    expect(cueOf(spokenAlways, null, [swing], swing)?.words).toBe('87');
    const plan = planWith({ cue: 'tone', isOnlyOffBand: false, isFading: false });
    expect(cueOf(plan, null, [swing], swing)).toBeNull();
  });
});

describe('the tone of a miss', () => {
  it('stays level in the band, falls when short, rises when long, more the further off, an octave at most', () => {
    const at = (side: 'in' | 'short' | 'long', beyondM: number) => endPitchHz({ side, beyondM });
    expect(at('in', 0)).toBe(660);
    expect(at('long', 0.02)).toBeGreaterThan(at('long', 0.01));
    expect(at('short', 0.02)).toBeLessThan(at('short', 0.01));
    expect(at('long', 0.5)).toBeCloseTo(1320, 9);
    expect(at('short', 0.5)).toBeCloseTo(330, 9);
  });
});
