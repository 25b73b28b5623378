import { normalQuantile } from '../statistics/distributions.ts';
import { CONFIDENCE, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import type { ComparedMeasure, Comparison } from './comparison.ts';
import type { ComparedName, Kit } from './comparison-measure.ts';
import { COMPARISON, DECISION } from './comparison-words.ts';
import { advantageOf, GUARDS, type Guard, lowerStandardError, margin } from './decision-margins.ts';

/**
 * About how many more swings with each kit would settle a comparison that is open. Every way to settle it is asked:
 * that one kit is better by the measure that shows it soonest while its score is no worse, or that the larger is no
 * worse in all guards; the shortest counts. For one measure
 *   n' = n (SE (z_level + z_power) / gap)^2
 * with SE from the interval, which shrinks with the root of n. To show a kit better, the gap is the advantage seen less
 * half an SE, since the measure that looks best is likely to flatter; to show it no worse it is the margin, less what
 * the kit is seen to be worse.
 * In simulation that many more settled it in 73 to 100 % of pairs in which one kit is better; where both are equal in
 * 57 to 93 %, and in 30 to 53 % with the heavy tails that reach has near a straight arm.
 * @returns null when it is more than a coach would want to feed, or not known
 * Source: power of the difference of two means, Cohen 1988, ch. 2 (from memory).
 * Checked: tests/measures/decision-operating.test.ts: how often that many more settle it
 */
export function moreSwings(comparison: Comparison): number | null {
  const { n, measures, accurateFrom } = comparison;
  const have = Math.min(n.smaller, n.larger);
  if (have < COMPARISON.limits.minimumN) return COMPARISON.limits.minimumN - have;
  const guard = (kit: Kit, name: Guard) =>
    toShowNoWorse(measures[name], kit, margin(name, accurateFrom));
  const ways = (['smaller', 'larger'] as const).map((kit) =>
    Math.max(soonest(comparison, kit), guard(kit, 'score')),
  );
  ways.push(Math.max(...GUARDS.map((name) => guard('larger', name))));
  const more = Math.ceil(have * (Math.min(...ways) - 1));
  return more <= DECISION.limits.mostMoreSwings ? Math.max(1, more) : null;
}

/** How many times the swings it takes for some measure to speak for a kit, after Holm at its strictest step. */
function soonest({ measures }: Comparison, kit: Kit): number {
  const known = Object.values(measures).filter(({ p }) => !isUnavailable(p));
  const level = 1 - COMPARISON.limits.alpha / Math.max(1, known.length);
  return Math.min(
    ...known.map((measure) => (measure.favours === kit ? 1 : toShowBetter(measure, kit, level))),
  );
}

function toShowBetter(measure: ComparedMeasure, kit: Kit, level: number): number {
  const advantage = advantageOf(measure, kit);
  if (advantage === null || isUnavailable(advantage)) return Infinity;
  const se = lowerStandardError(advantage);
  return times(se, advantage.value - se / 2, level);
}

function toShowNoWorse(measure: ComparedMeasure, kit: Kit, marginOf: number): number {
  const advantage = advantageOf(measure, kit);
  if (advantage === null) return Infinity;
  if (isUnavailable(advantage)) return toFillClasses(measure.name, advantage, marginOf);
  if (advantage.low > -marginOf) return 1;
  return times(lowerStandardError(advantage), marginOf + Math.min(0, advantage.value), CONFIDENCE);
}

/**
 * How many times the swings until the rarer class is large enough. Of feedback it is known beforehand how surely so
 * many would show it: the logarithm of an SD of m values has variance 1/(2 m), and there are four.
 */
function toFillClasses(name: ComparedName, why: Unavailable, marginOf: number): number {
  if (why.reason !== 'too-few' || why.have === 0) return Infinity;
  const enough = name === 'feedback' ? 2 * (zOf(CONFIDENCE) / marginOf) ** 2 : 0;
  return Math.max(why.need, enough) / why.have;
}

/** How many times the swings it takes to see a gap at a level with the power asked for; infinite without a gap. */
function times(standardError: number, gap: number, level: number): number {
  if (!(gap > 0)) return Infinity;
  return Math.max(1, ((zOf(level) * standardError) / gap) ** 2);
}

/** Standard errors that a gap must span to be seen at a level with the power asked for. */
function zOf(level: number): number {
  return normalQuantile((1 + level) / 2) + normalQuantile(DECISION.limits.power);
}
