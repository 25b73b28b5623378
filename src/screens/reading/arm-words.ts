import type { EffectiveDimension } from '../../core/measures/effective-dimension.ts';
import type { StateSpaceArea } from '../../core/measures/state-space-area.ts';
import { unavailableWords } from '../../core/measures/thresholds.ts';
import { type Estimate, isUnavailable, type Unavailable } from '../../core/statistics/estimate.ts';
import { DEG } from '../pictures/read-set.ts';

/**
 * How much freedom the arm takes, in plain words with the term in brackets behind; what has no value says why.
 * Checked: tests/screens/arm-words.test.ts
 */

const CONTACT_TENTH = 10;

/** Whether the parts of the arm vary as one or each by itself. */
export function dimensionWords(found: EffectiveDimension | Unavailable): string {
  const answer = isUnavailable(found) ? found : found.segments[CONTACT_TENTH]!;
  return isUnavailable(answer)
    ? `Not known whether the parts of the arm vary as one or each by itself: ${unavailableWords(answer)}.`
    : `From swing to swing, upper arm, forearm and implement at contact vary as ${withInterval(answer, (x) => x.toFixed(1))} parts would that go their own ways: 1 is all as one, 3 is each by itself (effective dimension), ${answer.n} swings.`;
}

/** How much room elbow and wrist take up, as the side of a square: nobody pictures square degrees. */
export function areaWords(found: StateSpaceArea | Unavailable): string {
  const area = isUnavailable(found) ? found : found.elbowWrist.visitedRad2;
  const side = (rad2: number) => `${(DEG * Math.sqrt(Math.max(0, rad2))).toFixed(0)}°`;
  return isUnavailable(area)
    ? `Not known how many postures of elbow and wrist the swings pass through: ${unavailableWords(area)}.`
    : `The postures of elbow and wrist that four swings pass through would fill a square of ${withInterval(area, side)} of elbow by as much of wrist (occupied area), from ${area.n} swings.`;
}

function withInterval({ value, low, high }: Estimate, print: (x: number) => string): string {
  return `${print(value)} (${print(low)} to ${print(high)})`;
}
