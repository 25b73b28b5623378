import type { MeasuredSwing } from '../core/measures/measured-swing.ts';
import { type Session, trend } from '../core/measures/trend.ts';
import { blocksByCondition } from '../core/pipeline/blocks.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import type { Condition } from '../core/recording/set-record.ts';
import type { ConditionHistory, DayPlayed, FromWorker } from './contract.ts';
import type { OpenedRun, StoredSets } from './stored-sets.ts';

/** Any will do, but the same history must give the same numbers every time. */
const TREND_SEED = 1;
const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;

/** What a player did in one set under one condition. */
interface Played {
  readonly description: SetDescription;
  readonly condition: Condition;
  readonly swings: readonly (MeasuredSwing | null)[];
}

interface Needs {
  readonly post: (message: FromWorker) => void;
  readonly sets: StoredSets;
  /** Whether somebody waits for another answer: the history is then given up. */
  readonly isOverdue: () => boolean;
}

/**
 * Reads all sets of a player with hindsight, one after another, and posts their history by condition. A set that
 * cannot be read is told and left out. Checked: tests/worker/player-history.test.ts
 */
export async function postHistory({ post, sets, isOverdue }: Needs, player: string): Promise<void> {
  const rows = (await sets.rows())
    .filter((row) => row.player === player)
    .sort((a, b) => a.startedAtMs - b.startedAtMs);
  const played: Played[] = [];
  for (const [read, { setId }] of rows.entries()) {
    if (isOverdue()) return;
    post({ type: 'history-progress', player, read, of: rows.length });
    const opened = await sets.played(setId);
    if (opened !== null) played.push(...playedIn(opened));
  }
  post({ type: 'player-history', player, conditions: historiesOf(played) });
}

function playedIn({ description, run }: OpenedRun): Played[] {
  const { blocks } = run.view();
  return blocksByCondition(blocks).map(([block]) => ({
    description,
    condition: blocks[block!]!,
    swings: run.swingsLike(block!),
  }));
}

/** One history per implement, ball and feed, by their names, in the order in which each was last played. */
function historiesOf(played: readonly Played[]): ConditionHistory[] {
  const byName = groupBy(played, ({ condition: { implement, ball, feed } }) =>
    JSON.stringify([implement, ball, feed]),
  );
  return [...byName.values()]
    .map(historyOf)
    .sort((a, b) => b.days.at(-1)!.startedAtMs - a.days.at(-1)!.startedAtMs);
}

function historyOf(played: readonly Played[]): ConditionHistory {
  const firstDay = localDay(played[0]!.description.startedAtMs);
  const byDay = [...groupBy(played, ({ description }) => localDay(description.startedAtMs))].map(
    ([day, sets]) => ({
      day: day - firstDay,
      sets,
      swings: sets.flatMap(({ swings }) => swings),
    }),
  );
  const sessions: readonly Session[] = byDay;
  const { implement, ball, feed } = played[0]!.condition;
  return {
    implement,
    ball,
    feed,
    days: byDay.map(
      ({ sets, swings }): DayPlayed => ({
        startedAtMs: sets[0]!.description.startedAtMs,
        setIds: sets.map(({ description }) => description.setId),
        swings: swings.filter((swing) => swing !== null).length,
        fullPoints: Math.max(0, ...sets.flatMap(({ description }) => description.scoreSteps)),
        lengthM: lengthOf(sets[0]!),
      }),
    ),
    trends: trend(sessions, { seed: TREND_SEED }),
  };
}

function lengthOf({ description: { lengthsM }, condition }: Played): number {
  return lengthsM.upperArm + lengthsM.forearm + condition.implementLengthM;
}

function groupBy<T, Key>(items: readonly T[], keyOf: (item: T) => Key): Map<Key, T[]> {
  const groups = new Map<Key, T[]>();
  for (const item of items) groups.set(keyOf(item), [...(groups.get(keyOf(item)) ?? []), item]);
  return groups;
}

/** Days since 1970 where the device is: a set late in the evening is of that evening. */
function localDay(ms: number): number {
  return Math.floor((ms - new Date(ms).getTimezoneOffset() * MINUTE_MS) / DAY_MS);
}
