/** The time axis of what is read over normalised swing time. */
export const SWING_TIME = 'Swing time, % from start to contact';

export const SWING_TICKS = [
  { at: 0, label: 'start' },
  { at: 25, label: '25' },
  { at: 50, label: '50' },
  { at: 75, label: '75' },
  { at: 100, label: 'contact' },
] as const;

/** That axis. */
export const SWING_AXIS = { low: 0, high: 100, label: SWING_TIME, ticks: SWING_TICKS } as const;
