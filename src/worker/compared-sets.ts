import { usualThresholds } from '../core/measures/accuracy-classes.ts';
import { comparisonSteps } from '../core/measures/comparison.ts';
import type { Kit, TwoConditions } from '../core/measures/comparison-measure.ts';
import { COMPARED } from '../core/measures/comparison-words.ts';
import { summariseFunnel } from '../core/measures/funnel.ts';
import type { MeasuredSwing } from '../core/measures/measured-swing.ts';
import { contactReach, funnelBand } from '../core/measures/reach-at-contact.ts';
import { reachInPercent } from '../core/measures/reach-table.ts';
import { blocksByCondition } from '../core/pipeline/blocks.ts';
import type { Condition } from '../core/recording/set-record.ts';
import type { Played } from '../storage/catalogue-row.ts';
import type {
  ComparedGroup,
  ComparedSide,
  CompareSets,
  FromWorker,
  PlayedSet,
  SetSummary,
} from './contract.ts';
import type { SetStorage } from './set-ports.ts';
import type { OpenedRun, StoredSets } from './stored-sets.ts';

type Compare = Extract<CompareSets, { type: 'compare' }>;

/** Any will do, but the same swings must give the same numbers every time. */
const SEED = 1;
/** Rearrangements of each permutation test: no step takes long, and the corrected p still has two digits. */
const DRAWS = 1999;

/** The swings of a set, condition by condition, and the size of its file when they were read. */
interface SwungSet {
  readonly sizeBytes: number;
  readonly startedAtMs: number;
  readonly scoreSteps: readonly number[];
  readonly parts: readonly { readonly condition: Condition; readonly swings: MeasuredSwing[] }[];
}

/** A set with the swings of both groups that lie in it. */
interface GroupedSet extends Record<Kit, readonly MeasuredSwing[]> {
  readonly set: SwungSet;
}

/** Conditions and sets of one player side by side, in steps: `take` does one of them. */
export class ComparedSets {
  readonly #post: (message: FromWorker) => void;
  readonly #storage: SetStorage;
  readonly #sets: StoredSets;
  /** What is under way: gives control back after each step that it has told. */
  #steps: AsyncGenerator<void, void, void> | null = null;
  /** Sets of the last comparison, by name: another choice mostly shares some. */
  #swung: ReadonlyMap<string, SwungSet> = new Map();

  constructor(post: (message: FromWorker) => void, storage: SetStorage, sets: StoredSets) {
    this.#post = post;
    this.#storage = storage;
    this.#sets = sets;
  }

  /**
   * Begins anew, or goes on, and does one step; what was under way before a new beginning is dropped.
   * @throws StorageError when storage cannot be read
   */
  async take(message: CompareSets): Promise<void> {
    if (message.type === 'list-conditions') this.#steps = this.#list(message.player);
    else if (message.type === 'compare') this.#steps = this.#compare(message);
    const steps = this.#steps;
    if (steps === null) return;
    let isOver = true;
    try {
      isOver = (await steps.next()).done === true;
    } finally {
      if (isOver && this.#steps === steps) this.#steps = null;
    }
  }

  /** Rows that have been asked for before say it themselves; the others are read once. */
  async *#list(player: string): AsyncGenerator<void, void, void> {
    const rows = (await this.#sets.rows()).filter((row) => row.player === player);
    const known = new Map(rows.flatMap((row) => (row.played ? [[row.setId, row.played]] : [])));
    const unknown = rows.filter(({ setId }) => !known.has(setId));
    const tell = (toRead: number): void => {
      const sets: PlayedSet[] = rows.flatMap(({ setId, startedAtMs }) => {
        const played = known.get(setId);
        return played === undefined ? [] : [{ ...played, setId, startedAtMs }];
      });
      sets.sort((a, b) => b.startedAtMs - a.startedAtMs);
      this.#post({ type: 'conditions', player, sets, toRead });
    };
    for (const [i, row] of unknown.entries()) {
      tell(unknown.length - i);
      yield;
      const played = await this.#playedOf(row);
      if (played !== null) known.set(row.setId, played);
    }
    tell(0);
  }

  async #playedOf(row: SetSummary): Promise<Played | null> {
    const opened = await this.#sets.played(row.setId);
    if (opened === null) return null;
    const played = playedIn(opened);
    if (row.isInMemoryOnly !== true) await this.#storage.remember({ ...row, played });
    return played;
  }

  async *#compare({ id, ...groups }: Compare): AsyncGenerator<void, void, void> {
    const rows = await this.#sets.rows();
    const wanted = new Set([...groups.smaller.setIds, ...groups.larger.setIds]);
    const of = wanted.size + Object.keys(COMPARED).length;
    let done = 0;
    const tell = (): void => this.#post({ type: 'compare-step', id, done: done++, of });
    const swung = new Map<string, SwungSet>();
    for (const setId of wanted) {
      tell();
      yield;
      const sizeBytes = rows.find((row) => row.setId === setId)?.sizeBytes ?? 0;
      const set = await this.#swingsOf(setId, sizeBytes);
      if (set !== null) swung.set(setId, set);
    }
    this.#swung = swung;
    const grouped = [...swung]
      .map(([setId, set]) => ({ set, ...swingsOfBoth(setId, set, groups) }))
      .sort((a, b) => a.set.startedAtMs - b.set.startedAtMs);
    const { sets, isScoredAlike, fullPoints } = joined(grouped);
    const thresholds = usualThresholds(fullPoints);
    const steps = comparisonSteps(sets, { seed: SEED, draws: DRAWS, thresholds });
    for (;;) {
      tell();
      yield;
      const step = steps.next();
      if (step.done !== true) continue;
      const sides = { smaller: sideOf(sets.smaller), larger: sideOf(sets.larger) };
      this.#post({ type: 'compared', id, comparison: step.value, sides, isScoredAlike });
      return;
    }
  }

  async #swingsOf(setId: string, sizeBytes: number): Promise<SwungSet | null> {
    const known = this.#swung.get(setId);
    if (known?.sizeBytes === sizeBytes) return known;
    const opened = await this.#sets.played(setId);
    if (opened === null) return null;
    const { startedAtMs, scoreSteps } = opened.description;
    return { sizeBytes, startedAtMs, scoreSteps, parts: partsOf(opened) };
  }
}

function partsOf({ run }: OpenedRun): SwungSet['parts'] {
  const { blocks } = run.view();
  return blocksByCondition(blocks).map(([first]) => ({
    condition: blocks[first!]!,
    swings: run.swingsLike(first!).filter((swing) => swing !== null),
  }));
}

function playedIn(opened: OpenedRun): Played {
  const { blocks } = opened.run.view();
  const conditions = partsOf(opened).map(({ condition, swings }) => {
    const { implement, ball, feed, implementLengthM } = condition;
    return { implement, ball, feed, implementLengthM, swings: swings.length };
  });
  const last = blocksByCondition(blocks).findIndex((alike) => alike.includes(blocks.length - 1));
  return { scoreSteps: opened.description.scoreSteps, conditions, last };
}

function swingsOfBoth(
  setId: string,
  { parts }: SwungSet,
  groups: Readonly<Record<Kit, ComparedGroup>>,
): Record<Kit, readonly MeasuredSwing[]> {
  const of = ({ implement, ball, feed, setIds }: ComparedGroup) =>
    parts.flatMap(({ condition, swings }) =>
      setIds.includes(setId) &&
      condition.implement === implement &&
      condition.ball === ball &&
      condition.feed === feed
        ? swings
        : [],
    );
  return { smaller: of(groups.smaller), larger: of(groups.larger) };
}

/** Both groups over all sets. Points of different score pads say nothing about each other, so they are left out. */
function joined(grouped: readonly GroupedSet[]): {
  readonly sets: TwoConditions;
  readonly isScoredAlike: boolean;
  readonly fullPoints: number;
} {
  const pads = grouped
    .filter(({ smaller, larger }) => smaller.length + larger.length > 0)
    .map(({ set }) => set.scoreSteps);
  const isScoredAlike = new Set(pads.map(String)).size <= 1;
  const of = (kit: Kit) =>
    grouped
      .flatMap((group) => group[kit])
      .map((swing) => (isScoredAlike ? swing : { ...swing, points: null }));
  // Without a score pad no swing has points, and any threshold does.
  const fullPoints = Math.max(0, ...(pads[0] ?? [])) || 1;
  return { sets: { smaller: of('smaller'), larger: of('larger') }, isScoredAlike, fullPoints };
}

function sideOf(swings: readonly MeasuredSwing[]): ComparedSide {
  return {
    funnel: summariseFunnel(swings),
    band: funnelBand(reachInPercent(swings)),
    reachM: contactReach(swings),
    points: swings.map(({ points }) => points),
  };
}
