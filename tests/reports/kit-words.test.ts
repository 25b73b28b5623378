import { describe, expect, it } from 'vitest';
import { changedTogether, kitWords, shortNames } from '../../src/reports/kit-words.ts';

const smaller = { implement: '580 mm racket', ball: 'soft', feed: '' };
const larger = { implement: '685 mm racket', ball: 'hard', feed: '' };

describe('kit in words', () => {
  it('names a kit by implement and ball', () => {
    expect(kitWords(smaller)).toBe('580 mm racket with soft');
    expect(kitWords({ ...smaller, ball: '' })).toBe('580 mm racket');
  });

  it('tells two kits apart by the first thing that differs, and by nothing where nothing does', () => {
    expect(shortNames({ smaller, larger })?.larger).toBe('685 mm racket');
    expect(shortNames({ smaller, larger: { ...smaller, ball: 'hard' } })?.larger).toBe('hard');
    expect(shortNames({ smaller, larger: smaller })).toBeNull();
  });

  it('says what changed together, in the word of the kit or the general one', () => {
    const said = changedTogether({ smaller, larger });
    expect(said).toMatch(/^Racket and ball changed together: .* which of the two made/);
    const stick = { ...larger, implement: 'long stick', feed: 'machine' };
    expect(changedTogether({ smaller, larger: stick })).toMatch(
      /^Implement, ball and feed changed/,
    );
    expect(changedTogether({ smaller, larger: { ...larger, ball: 'soft' } })).toBeNull();
  });
});
