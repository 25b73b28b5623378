import { describe, expect, it } from 'vitest';
import { asTone, type Cue } from '../../src/screens/court/cues.ts';
import { type OfferedVoice, onDeviceVoice } from '../../src/screens/court/on-device-voice.ts';

const voice = (lang: string, localService: boolean, isDefault = false): OfferedVoice => ({
  lang,
  localService,
  default: isDefault,
});

describe('onDeviceVoice', () => {
  it('never takes a voice that sends the words away, even the one the browser would take', () => {
    const away = voice('en-US', false, true);
    const here = voice('en-GB', true);
    expect(onDeviceVoice([away, here])).toBe(here);
    expect(onDeviceVoice([away])).toBeNull();
  });

  it("takes the browser's choice among those of the device", () => {
    const chosen = voice('en-AU', true, true);
    expect(onDeviceVoice([voice('en-GB', true), chosen])).toBe(chosen);
  });

  it.each([
    ['en', true],
    ['EN-us', true],
    // From memory: some phones write an underscore, though the API asks for BCP 47, which has a hyphen.
    ['en_GB', true],
    ['enm', false],
    ['de-DE', false],
  ])('of %s is English: %s', (lang, isEnglish) => {
    expect(onDeviceVoice([voice(lang, true)]) !== null).toBe(isEnglish);
  });
});

describe('a spoken cue without a voice', () => {
  const cue: Cue = { kind: 'speech', miss: { side: 'short', beyondM: 0.02 }, words: 'short 2' };

  it('is a tone that tells the same', () => {
    expect(asTone(cue)).toEqual({ ...cue, kind: 'tone' });
  });

  it('is none while no band is known: a pitch would say "good"', () => {
    expect(asTone({ ...cue, miss: { side: 'unknown', beyondM: 0 } })).toBeNull();
  });
});
