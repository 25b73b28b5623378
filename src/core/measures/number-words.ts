import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import type { EffectiveDimension } from './effective-dimension.ts';
import type { AxisError, LandingError } from './landing-error.ts';
import type { ReachAtContact } from './reach-at-contact.ts';
import type { Score } from './score.ts';
import type { StateSpaceArea } from './state-space-area.ts';
import { unavailableWords } from './thresholds.ts';

/**
 * Measures that are numbers rather than verdicts, in whole sentences for a coach: value, 95 % interval in brackets, n.
 * What has no value says why. Checked: tests/measures/number-words.test.ts
 */

const CONTACT_TENTH = 10;
const SQUARE_DEGREES = (180 / Math.PI) ** 2;

/** Mean reach and its spread. */
export function reachWords({ n, meanM, spreadM }: ReachAtContact): string {
  if (isUnavailable(meanM))
    return `Not known what reach at contact is: ${unavailableWords(meanM)}.`;
  const mean = `Reach at contact is ${withInterval(meanM, inCm)} cm on average`;
  return isUnavailable(spreadM)
    ? `${mean}; not known how far it spreads: ${unavailableWords(spreadM)}.`
    : `${mean} and spreads by ${withInterval(spreadM, inCm)} cm (SD), ${n} swings.`;
}

/** Mean points and share of accurate balls. */
export function scoreWords({ n, mean, hitRate }: Score): string {
  if (isUnavailable(hitRate)) return 'No ball is scored.';
  const accurate = `${Math.round(hitRate.value * n)} of ${n} scored balls are accurate (${inPercent(hitRate.low)} to ${inPercent(hitRate.high)} %)`;
  if (!isUnavailable(mean))
    return `A ball scores ${withInterval(mean, (x) => x.toFixed(1))} points on average; ${accurate}.`;
  return mean.reason === 'no-spread'
    ? `All balls score alike; ${accurate}.`
    : `${accurate}; mean score: ${unavailableWords(mean)}.`;
}

/** Where balls land, or null when none was tapped on the target map. */
export function landingWords(landing: LandingError | Unavailable): string | null {
  if (isUnavailable(landing)) return null;
  const { n, beyond, left, bivariateVariableM: scatter } = landing;
  const off = [offWords(beyond, 'beyond', 'short of'), offWords(left, 'left of', 'right of')];
  const where = off.every((words) => words !== null)
    ? `Balls land ${off.join(' and ')} the middle of the target on average`
    : 'All balls land alike';
  return isUnavailable(scatter)
    ? `${where}; not known how far they scatter: ${unavailableWords(scatter)}.`
    : `${where} and scatter by ${withInterval(scatter, inCm)} cm about that, ${n} balls.`;
}

/** In how many ways the arm varies at contact. */
export function dimensionWords(found: EffectiveDimension | Unavailable): string {
  const answer = isUnavailable(found) ? found : found.segments[CONTACT_TENTH]!;
  return isUnavailable(answer)
    ? `Not known in how many ways the arm varies: ${unavailableWords(answer)}.`
    : `At contact the three segments vary in ${withInterval(answer, (x) => x.toFixed(1))} independent ways, ${answer.n} swings.`;
}

/** How much room elbow and wrist take up. */
export function areaWords(found: StateSpaceArea | Unavailable): string {
  const area = isUnavailable(found) ? found : found.elbowWrist.visitedRad2;
  const degrees = (rad2: number) => (Math.max(0, rad2) * SQUARE_DEGREES).toFixed(0);
  return isUnavailable(area)
    ? `Not known how many postures of elbow and wrist the swings pass through: ${unavailableWords(area)}.`
    : `Four swings pass through ${withInterval(area, degrees)} square degrees of elbow and wrist angles, from ${area.n} swings.`;
}

/** Swings that no measure of angles can use; null when there is none. */
export function headingWords(n: number, angleN: number): string | null {
  return angleN < n
    ? `${n - angleN} of ${n} swings do not know where the target is: what is said of the arm's parts leaves them out.`
    : null;
}

function offWords({ constantM }: AxisError, ahead: string, behind: string): string | null {
  if (isUnavailable(constantM)) return null;
  const { value, low, high } = constantM;
  const [from, to] = value < 0 ? [-high, -low] : [low, high];
  return `${inCm(Math.abs(value))} cm (${inCm(from)} to ${inCm(to)}) ${value < 0 ? behind : ahead}`;
}

function withInterval({ value, low, high }: Estimate, print: (x: number) => string): string {
  return `${print(value)} (${print(low)} to ${print(high)})`;
}

function inCm(metres: number): string {
  // No minus before a nothing.
  return (Math.round(metres * 1000) / 10 + 0).toFixed(1);
}

function inPercent(share: number): string {
  return (100 * share).toFixed(0);
}
