import { type PlannedSet, readPlannedSet } from '../../core/plan/planned-set.ts';

const KEY = 'last-plan';

/** The plan of the last set with sensors, kept in the browser's storage. */
export interface LastPlan {
  /** null before the first set, and when what is kept cannot be read. */
  read(): PlannedSet | null;
  keep(planned: PlannedSet): void;
}

/** @param open gives the storage; may throw, as browsers do where storage is forbidden: nothing is kept then */
export function createLastPlan(open: () => Storage): LastPlan {
  return {
    read: () => {
      try {
        const text = open().getItem(KEY);
        return text === null ? null : readPlannedSet(text);
      } catch {
        // Of another version or damaged: the coach plans anew.
        return null;
      }
    },
    keep: (planned) => {
      try {
        open().setItem(KEY, JSON.stringify(planned));
      } catch {
        // The coach plans anew next time.
      }
    },
  };
}
