import type { Held } from './memory-probe.ts';
import { sensorsOf } from './soak-plan.ts';
import type { PlayedSet } from './soak-run.ts';

/** What the worker keeps of a swing while its set runs, with the curves that review needs, bytes. */
const WORKER_SWING_BYTES = 22_000;
/** What it keeps of a running set whatever its length: the last seconds of three sensors, and what waits for a drop. */
const WORKER_SET_BYTES = 6e6;
/** Without storage it keeps every record too: 60 packets a second, 400 bytes each with the object around them. */
const UNSAVED_BYTES_PER_S = 24_000;
/** The page draws swings, a few numbers each; its other share is the simulated player, planned ahead. */
const PAGE_SWING_BYTES = 15_000;
const PAGE_SET_BYTES = 6e6;
/** Of a set that ended a row in the list may stay, with its elements; any of its swings would be more. */
const ROW_BYTES = 15_000;
/** Code that the engine compiled later, and caches that it fills once, bytes. */
const ENGINE_BYTES = 1.5e6;
/** Elements and texts of a row, 30 counted, and its handlers. */
const ROW_NODES = 35;
const ROW_LISTENERS = 4;
const SCREEN_NODES = 200;
const SCREEN_LISTENERS = 40;

/** Where memory grew beyond its bounds, in words; empty when nowhere. */
export function beyondBounds(before: Held, played: readonly PlayedSet[]): string[] {
  return played.flatMap((set, i) => {
    const name = `set ${i + 1}`;
    const running = runningChecks(set, played[i - 1]?.atRest ?? before);
    return [...restChecks(played, i), ...running]
      .filter(({ value, bound }) => value > bound)
      .map(
        ({ what, value, bound }) =>
          `${name} ${what}: ${Math.round(value)} more, at most ${Math.round(bound)}`,
      );
  });
}

interface Check {
  readonly what: string;
  /** How much more than before. */
  readonly value: number;
  readonly bound: number;
}

/** Against the first set that began and ended in the same life of the page: it brought code and caches with it. */
function restChecks(played: readonly PlayedSet[], i: number): Check[] {
  const { life, atRest } = played[i]!;
  const first = played.findIndex(
    (other, k) => other.life === life && (played[k - 1]?.life ?? 0) === life,
  );
  if (first < 0 || i <= first) return [];
  const base = played[first]!.atRest;
  const rows = i - first;
  const bytes = rows * ROW_BYTES + ENGINE_BYTES;
  return [
    { what: 'at rest, page', value: atRest.pageBytes - base.pageBytes, bound: bytes },
    { what: 'at rest, worker', value: atRest.workerBytes - base.workerBytes, bound: bytes },
    {
      what: 'at rest, nodes',
      value: atRest.nodes - base.nodes,
      bound: rows * ROW_NODES + SCREEN_NODES,
    },
    {
      what: 'at rest, listeners',
      value: atRest.listeners - base.listeners,
      bound: rows * ROW_LISTENERS + SCREEN_LISTENERS,
    },
  ];
}

/** What a running set takes beyond what was held before it, by the balls struck so far. */
function runningChecks({ plan, running }: PlayedSet, start: Held): Check[] {
  const fullS = plan.troubles.find(({ what }) => what === 'storage-full')?.atS ?? Infinity;
  const contactsS = sensorsOf(plan.air).swings.map((swing) => swing.contactTimeUs / 1e6);
  return running.flatMap(({ atS, held }) => {
    const swings = contactsS.filter((s) => s <= atS).length;
    const unsaved = Math.max(0, atS - fullS) * UNSAVED_BYTES_PER_S;
    const at = `at ${atS.toFixed(0)} s`;
    return [
      {
        what: `${at}, page`,
        value: held.pageBytes - start.pageBytes,
        bound: swings * PAGE_SWING_BYTES + PAGE_SET_BYTES,
      },
      {
        what: `${at}, worker`,
        value: held.workerBytes - start.workerBytes,
        bound: swings * WORKER_SWING_BYTES + WORKER_SET_BYTES + unsaved,
      },
    ];
  });
}
