import { usualThresholds } from '../core/measures/accuracy-classes.ts';
import { type Comparison, compareConditions } from '../core/measures/comparison.ts';
import { type Decision, decide } from '../core/measures/decision.ts';
import type { MeasuredSwing } from '../core/measures/measured-swing.ts';
import { blocksByCondition } from '../core/pipeline/blocks.ts';
import { createPipeline, stepPipeline } from '../core/pipeline/pipeline.ts';
import { reviewedSwings } from '../core/pipeline/reviewed-swings.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import type { Condition, SetRecord } from '../core/recording/set-record.ts';

/** The swings of a player under one condition, oldest set first, void and discarded ones left out. */
export interface SwungCondition {
  readonly condition: Condition;
  readonly swings: readonly MeasuredSwing[];
}

/** What Side by side makes of the sets of one player with two kits. */
export interface DecidedSets {
  readonly smaller: SwungCondition;
  readonly larger: SwungCondition;
  readonly comparison: Comparison;
  readonly decision: Decision;
}

/** Those of Side by side, so that both say the same. */
const SEED = 1;
const DRAWS = 1999;

type RecordedSet = { readonly description: SetDescription; readonly records: readonly SetRecord[] };

/**
 * Which of two kits serves a player better, over all swings of these sets: read through the pipeline, with hindsight,
 * and compared as the app's Side by side does. The longer implement is the larger kit; the one played last is the
 * one that the question starts from.
 * @param sets of one player, oldest first, scored by the same points
 * @throws RangeError unless they hold two conditions, with implements of different length
 * Checked: tests/recorded-streams/demo-players.test.ts; tests/browser/demo-players.test.ts: the app says the same
 */
export function decideSets(sets: readonly RecordedSet[]): DecidedSets {
  const swung = new Map<string, { condition: Condition; swings: MeasuredSwing[] }>();
  let last = '';
  for (const set of sets) {
    const state = createPipeline(set.description);
    for (const record of set.records) stepPipeline(state, record);
    const { conditions } = state.blocks;
    for (const [first] of blocksByCondition(conditions)) {
      const condition = conditions[first!]!;
      const alike = swung.get(keyOf(condition)) ?? { condition, swings: [] };
      alike.swings.push(...reviewedSwings(state, first!).filter((swing) => swing !== null));
      swung.set(keyOf(condition), alike);
    }
    last = keyOf(conditions.at(-1)!);
  }
  const [smaller, larger] = byLength([...swung.values()]);
  const fullPoints = Math.max(0, ...(sets[0]?.description.scoreSteps ?? []));
  const comparison = compareConditions(
    { smaller: smaller.swings, larger: larger.swings },
    { seed: SEED, draws: DRAWS, thresholds: usualThresholds(fullPoints) },
  );
  const current = keyOf(larger.condition) === last ? 'larger' : 'smaller';
  return { smaller, larger, comparison, decision: decide(comparison, current) };
}

function keyOf({ implement, ball, feed }: Condition): string {
  return JSON.stringify([implement, ball, feed]);
}

function byLength(swung: readonly SwungCondition[]): readonly [SwungCondition, SwungCondition] {
  const lengthOf = ({ condition }: SwungCondition) => condition.implementLengthM;
  const [smaller, larger, ...others] = swung.toSorted((a, b) => lengthOf(a) - lengthOf(b));
  if (smaller === undefined || larger === undefined || others.length > 0)
    throw new RangeError(`two conditions are compared, and these sets hold ${swung.length}`);
  if (lengthOf(smaller) === lengthOf(larger))
    throw new RangeError('the implements are equally long: neither kit is the larger one');
  return [smaller, larger];
}
