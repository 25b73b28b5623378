import { computed, type ReadonlySignal, signal } from '@preact/signals';
import type { Kit } from '../../core/measures/comparison-measure.ts';
import { type Decision, decide } from '../../core/measures/decision.ts';
import type { FromWorker } from '../../worker/contract.ts';
import type { WorkerClient } from '../worker-client.ts';
import {
  type Choice,
  type Comparable,
  comparableOf,
  firstChoice,
  type Group,
  idsOf,
  type Letter,
} from './comparable.ts';
import { type ComparedPair, problemOf } from './compared-pair.ts';
import { pairOf, type Told } from './pair-of.ts';
import type { Compared, PlayedSet } from './worker-words.ts';

/** How far reading or comparing has come. */
export interface Progress {
  readonly words: string;
  readonly done: number;
  readonly of: number;
}

/** Conditions and sets of one player side by side. */
export interface SideBySideModel {
  /** null until all sets have been looked at. */
  readonly comparable: ReadonlySignal<readonly Comparable[] | null>;
  /** Both sides as chosen; null until something can be. */
  readonly pair: ReadonlySignal<ComparedPair | null>;
  /** Why nothing is compared, in words. */
  readonly problem: ReadonlySignal<string | null>;
  readonly progress: ReadonlySignal<Progress | null>;
  /** Of the pair as it is; null while it is computed. */
  readonly compared: ReadonlySignal<Compared | null>;
  readonly decision: ReadonlySignal<Decision | null>;
  readonly trouble: ReadonlySignal<string | null>;
  /** Takes another condition, with all its sets. */
  choose(letter: Letter, key: string): void;
  toggleSet(letter: Letter, setId: string): void;
  /** Which is the larger kit, where the implements are equally long. */
  setLarger(letter: Letter): void;
  /** Which kit the player plays with now. */
  setCurrent(letter: Letter): void;
  dispose(): void;
}

/**
 * Asks the worker for what a player has played and compares two of it, anew after every choice.
 * @param choose what is compared first
 * Checked: tests/screens/side-by-side-model.test.ts
 */
export function createSideBySideModel(
  client: WorkerClient,
  player: string,
  choose: typeof firstChoice = firstChoice,
): SideBySideModel {
  const sets = signal<readonly PlayedSet[] | null>(null);
  const choice = signal<Choice | null>(null);
  const told = signal<Told>({});
  const progress = signal<Progress | null>(null);
  const compared = signal<Compared | null>(null);
  const trouble = signal<string | null>(null);
  let id = 0;
  const comparable = computed(() => (sets.value === null ? null : comparableOf(sets.value)));
  const pair = computed(() => pairOf(comparable.value, sets.value, choice.value, told.value));
  const problem = computed(() =>
    sets.value === null ? null : problemOf(sets.value.length, pair.value),
  );
  const decision = computed(() => {
    if (compared.value === null || pair.value === null) return null;
    const { kits, current } = pair.value;
    return decide(
      compared.value.comparison,
      kits.A.kit === kits.B.kit ? 'larger' : kits[current].kit,
    );
  });

  const compare = (): void => {
    id++;
    compared.value = null;
    progress.value = null;
    if (pair.value === null || problem.value !== null) return;
    const { kits } = pair.value;
    const groupOf = (kit: Kit) => {
      const { comparable: of, group } = kits.A.kit === kit ? kits.A : kits.B;
      return { implement: of.implement, ball: of.ball, feed: of.feed, setIds: group.setIds };
    };
    client.post({ type: 'compare', id, smaller: groupOf('smaller'), larger: groupOf('larger') });
  };
  const change = (letter: Letter, group: Group): void => {
    if (choice.value === null) return;
    choice.value = { ...choice.value, [letter]: group };
    compare();
  };
  const take = (message: FromWorker): void => {
    switch (message.type) {
      case 'conditions':
        if (message.player !== player) return;
        if (message.toRead > 0) {
          const of = message.sets.length + message.toRead;
          progress.value = { words: 'Reading sets', done: message.sets.length, of };
          client.post({ type: 'compare-on' });
          return;
        }
        sets.value = message.sets;
        choice.value = choose(comparableOf(message.sets), message.sets);
        compare();
        return;
      case 'compare-step':
        if (message.id !== id) return;
        progress.value = { words: 'Comparing', done: message.done, of: message.of };
        client.post({ type: 'compare-on' });
        return;
      case 'compared':
        if (message.id !== id) return;
        progress.value = null;
        compared.value = message;
        return;
      case 'trouble':
        trouble.value = message.trouble.message;
    }
  };
  const subscription = client.messages$.subscribe(take);
  client.post({ type: 'list-conditions', player });
  return {
    comparable,
    pair,
    problem,
    progress,
    compared,
    decision,
    trouble,
    choose: (letter, key) => {
      const wanted = comparable.value?.find((one) => one.key === key);
      if (wanted !== undefined) change(letter, { key, setIds: idsOf(wanted) });
    },
    toggleSet: (letter, setId) => {
      const group = choice.value?.[letter];
      if (group === undefined) return;
      const setIds = group.setIds.includes(setId)
        ? group.setIds.filter((one) => one !== setId)
        : [...group.setIds, setId];
      change(letter, { ...group, setIds });
    },
    setLarger: (larger) => {
      told.value = { ...told.value, larger };
      compare();
    },
    setCurrent: (current) => {
      told.value = { ...told.value, current };
    },
    dispose: () => subscription.unsubscribe(),
  };
}
