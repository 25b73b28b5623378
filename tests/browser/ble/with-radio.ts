import { expect, inject } from 'vitest';
import { hasBusDaemon } from './private-bus.ts';
import { openRadioSet, type RadioOptions, type RadioSet } from './radio-set.ts';

const underTest = inject('browserUnderTest');
const hasBus = hasBusDaemon();
if (!hasBus) {
  const words = 'No dbus-daemon: the emulated radio is not tested. Install the package dbus.';
  if (process.env.CI) throw new Error(words);
  console.warn(words);
}

/** Whether this machine has what the emulated radio needs. */
export const hasRadio = underTest !== null && hasBus;

/** Opens the app with three emulated sensors, uses it, and lets go of everything. The page must report no error. */
export async function withRadio(
  options: RadioOptions,
  use: (set: RadioSet) => Promise<void>,
): Promise<void> {
  const set = await openRadioSet(underTest!.chromiumPath, underTest!.baseUrl, options);
  try {
    await use(set);
    expect(set.errors).toEqual([]);
    expect(set.foreign, 'requests that left the origin').toEqual([]);
  } finally {
    await set.stop();
  }
}
