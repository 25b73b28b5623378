import { readFileSync } from 'node:fs';
import { setRows } from '../../src/core/exports/set-row.ts';
import { swingRows } from '../../src/core/exports/swing-row.ts';
import { createPipeline, stepPipeline } from '../../src/core/pipeline/pipeline.ts';
import { readSet, type StoredSet } from '../../src/core/recording/set-reader.ts';

/** Fewer resamples than usual: what is tested is that numbers arrive, not how sure they are. */
const OPTIONS = { seed: 1, resamples: 200 };

/** One of the demo sets of recorded-streams, read from its file. */
function storedDemo(name: 'full' | 'short'): StoredSet {
  const path = new URL(`../../recorded-streams/player-a-${name}-racket.mcap`, import.meta.url);
  const result = readSet(readFileSync(path));
  if (!result.ok) throw new Error(result.error.message);
  return result.set;
}

/** A set run through the pipeline to its end. */
export function finishedState(set: Pick<StoredSet, 'description' | 'records'>) {
  const state = createPipeline(set.description);
  for (const record of set.records) stepPipeline(state, record);
  return state;
}

/** Rows of a demo set for the tables of swings and sets. */
export function demoRows(name: 'full' | 'short') {
  const set = storedDemo(name);
  const state = finishedState(set);
  return { set, state, swings: swingRows(state), sets: setRows(state, set, OPTIONS) };
}
