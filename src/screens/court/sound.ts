import { onDeviceVoice } from './on-device-voice.ts';
import type { Miss } from './swing-words.ts';

/** What the court can be heard saying. */
export interface CourtSound {
  /** A new swing has come. */
  tick(): void;
  /** Reach by pitch: level in the band, falling when short, rising when long, the further the more. */
  tone(miss: Miss): void;
  /** Whether there is a voice that keeps the words on this device. */
  canSpeak(): boolean;
  say(words: string): void;
}

const IN_BAND_HZ = 660;
/** A semitone and a half for every centimetre beyond the band, an octave at most. */
const SEMITONES_PER_M = 150;
const MOST_SEMITONES = 12;
const TONE_S = 0.35;

/** Pitch at the end of a tone that begins at {@link IN_BAND_HZ}, hertz. */
export function endPitchHz({ side, beyondM }: Miss): number {
  const semitones = Math.min(MOST_SEMITONES, 2 + SEMITONES_PER_M * beyondM);
  if (side === 'short') return IN_BAND_HZ * 2 ** (-semitones / 12);
  return side === 'long' ? IN_BAND_HZ * 2 ** (semitones / 12) : IN_BAND_HZ;
}

/** Sound by the browser's own means; silent where it has none. To be made after a tap, or browsers keep it quiet. */
export function createCourtSound(): CourtSound {
  const speech = 'speechSynthesis' in globalThis ? speechSynthesis : null;
  const voice = () => onDeviceVoice(speech?.getVoices() ?? []);
  // browsers begin to look for voices when they are first asked
  voice();
  const air = 'AudioContext' in globalThis ? new AudioContext() : null;
  const play = (fromHz: number, toHz: number, lastsS: number, loudness: number): void => {
    if (air === null) return;
    // an incoming call suspends it
    if (air.state === 'suspended') void air.resume();
    const startS = air.currentTime;
    const oscillator = air.createOscillator();
    const gain = air.createGain();
    oscillator.frequency.setValueAtTime(fromHz, startS);
    oscillator.frequency.linearRampToValueAtTime(toHz, startS + lastsS);
    gain.gain.setValueAtTime(loudness, startS);
    gain.gain.exponentialRampToValueAtTime(0.001, startS + lastsS);
    oscillator.connect(gain).connect(air.destination);
    oscillator.start(startS);
    oscillator.stop(startS + lastsS);
  };
  return {
    tick: () => play(1200, 900, 0.05, 0.15),
    tone: (miss) => play(IN_BAND_HZ, endPitchHz(miss), TONE_S, 0.5),
    canSpeak: () => voice() !== null,
    say: (words) => {
      const speaker = voice();
      if (speech === null || speaker === null) return;
      // the newest swing is the one that matters
      speech.cancel();
      const utterance = new SpeechSynthesisUtterance(words);
      utterance.voice = speaker;
      utterance.lang = speaker.lang;
      speech.speak(utterance);
    },
  };
}
