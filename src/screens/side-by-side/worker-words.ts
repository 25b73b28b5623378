import type { FromWorker } from '../../worker/contract.ts';

/** What the worker says of comparing, by the names the screens use. */
export type PlayedSet = Extract<FromWorker, { type: 'conditions' }>['sets'][number];
export type PlayedCondition = PlayedSet['conditions'][number];
export type Compared = Extract<FromWorker, { type: 'compared' }>;
export type ComparedSide = Compared['sides']['larger'];
