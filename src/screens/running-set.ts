import { signal } from '@preact/signals';
import type { CourtModel } from './court/court-model.ts';

/** The set in progress, if any. Outlives the Court screen, so that the back button never ends a set. */
export const runningSet = signal<CourtModel | null>(null);

/** The set that has just been ended from Court, for Start to say that it is saved. */
export const justEnded = signal<string | null>(null);
