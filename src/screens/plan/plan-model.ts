import { computed, type ReadonlySignal, signal } from '@preact/signals';
import type { PlannedSet } from '../../core/plan/planned-set.ts';
import { type Library, watchLibrary } from '../library-model.ts';
import type { WorkerClient } from '../worker-client.ts';
import { type KitEntry, NEW_KIT, withImplement } from './kit-entry.ts';
import type { LastPlan } from './last-plan.ts';
import {
  entryOfPlan,
  MAX_KITS,
  newPlan,
  type PlanEntry,
  plannedSetOf,
  planProblem,
} from './plan-entry.ts';

/** The plan of the next set on its way to the court. */
export interface PlanModel {
  readonly entry: ReadonlySignal<PlanEntry>;
  /** Kit of earlier sets; null until the worker has answered. */
  readonly library: ReadonlySignal<Library | null>;
  /** What no single field can tell, in words. */
  readonly problem: ReadonlySignal<string | null>;
  /** Confirmed by the coach for this set; never remembered. */
  readonly areCautionsSeen: ReadonlySignal<boolean>;
  change(part: Partial<PlanEntry>): void;
  /** Another implement brings its own lengths, where they are known. */
  changeKit(place: number, part: Partial<KitEntry>): void;
  addKit(): void;
  removeKit(place: number): void;
  shuffle(): void;
  confirmCautions(areSeen: boolean): void;
  /** Keeps the plan and begins the set. Nothing happens while there is a problem. */
  begin(): void;
  dispose(): void;
}

interface Sources {
  readonly client: WorkerClient;
  readonly lastPlan: LastPlan;
  /** A fresh seed for a random order. */
  readonly newSeed: () => number;
  /** Milliseconds since 1970 (UTC). */
  readonly nowMs: () => number;
  readonly onBegin: (planned: PlannedSet) => void;
}

/** Makes the model of the Plan screen, filled from the last plan. */
export function createPlanModel({ client, lastPlan, newSeed, nowMs, onBegin }: Sources): PlanModel {
  const { library, dispose } = watchLibrary(client);
  const last = lastPlan.read();
  const entry = signal(last === null ? newPlan(newSeed()) : entryOfPlan(last, newSeed()));
  const problem = computed(() => planProblem(entry.value));
  const areCautionsSeen = signal(false);
  const changePlan = (part: Partial<PlanEntry>): void => {
    entry.value = { ...entry.value, ...part };
  };
  return {
    entry,
    library,
    problem,
    areCautionsSeen,
    dispose,
    change: changePlan,
    changeKit: (place, part) => {
      const { kits } = entry.value;
      const change = (kit: KitEntry): KitEntry => {
        const { implement, ...rest } = part;
        if (implement === undefined) return { ...kit, ...rest };
        const others = kits.filter((other) => other !== kit);
        return { ...withImplement(kit, implement, others, library.value), ...rest };
      };
      changePlan({ kits: kits.map((kit, i) => (i === place ? change(kit) : kit)) });
    },
    addKit: () => {
      const { kits } = entry.value;
      // The ball and the feed often stay: one difference at a time can be read.
      const { ball, feed } = kits.at(-1) ?? NEW_KIT;
      if (kits.length < MAX_KITS) changePlan({ kits: [...kits, { ...NEW_KIT, ball, feed }] });
    },
    removeKit: (place) => {
      const { kits } = entry.value;
      if (kits.length > 1) changePlan({ kits: kits.filter((_, i) => i !== place) });
    },
    shuffle: () => changePlan({ seed: newSeed() }),
    confirmCautions: (areSeen) => {
      areCautionsSeen.value = areSeen;
    },
    begin: () => {
      if (problem.value !== null || !areCautionsSeen.value) return;
      const planned = plannedSetOf(entry.value, nowMs());
      lastPlan.keep(planned);
      onBegin(planned);
    },
  };
}
