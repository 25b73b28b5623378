import { signal } from '@preact/signals';
import type { PlayerRow } from './library-model.ts';

/** Who plays the next set. Outlives the Player screen; gone after a reload. */
export const chosenPlayer = signal<PlayerRow | null>(null);
