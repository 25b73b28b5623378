/** What is looked at of a voice that the browser offers. */
export type OfferedVoice = Pick<SpeechSynthesisVoice, 'lang' | 'localService' | 'default'>;

/** With a hyphen by the standard, with an underscore on some phones. */
const ENGLISH = /^en([-_]|$)/i;

/**
 * An English voice that speaks on this device. Others send the words to a server of the browser's maker, which neither
 * the page's Content-Security-Policy nor a watch over its requests would notice.
 * @param voices as the browser lists them; empty while it still looks for them
 * @returns the browser's own choice among them if it is one; null when there is none
 * Source: W3C Web Speech API, SpeechSynthesisVoice.localService.
 * Checked: tests/screens/on-device-voice.test.ts
 */
export function onDeviceVoice<Voice extends OfferedVoice>(voices: readonly Voice[]): Voice | null {
  const onDevice = voices.filter(({ lang, localService }) => localService && ENGLISH.test(lang));
  return onDevice.find((voice) => voice.default) ?? onDevice[0] ?? null;
}
