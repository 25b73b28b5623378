import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import type { LandingError } from './landing-error.ts';
import type { ReachAtContact } from './reach-at-contact.ts';
import type { Score } from './score.ts';
import { unavailableWords } from './thresholds.ts';

/**
 * Measures that are numbers rather than verdicts, in whole sentences for a coach: value, 95 % interval in brackets, n.
 * What has no value says why. Checked: tests/measures/number-words.test.ts
 */

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
  const where = placeWords(beyond.constantM, left.constantM);
  return isUnavailable(scatter)
    ? `${where}; not known how far they scatter: ${unavailableWords(scatter)}.`
    : `${where}. They scatter by ${withInterval(scatter, inCm)} cm about where they land on average, ${n} balls.`;
}

/** Swings that no measure of angles can use; null when there is none. */
export function headingWords(n: number, angleN: number): string | null {
  return angleN < n
    ? `${n - angleN} of ${n} swings do not know where the target is: what is said of the arm's parts leaves them out.`
    : null;
}

type Side = readonly [ahead: string, behind: string];
const DEPTH: Side = ['beyond', 'short'];
const ACROSS: Side = ['left', 'right'];

function placeWords(beyond: Estimate | Unavailable, left: Estimate | Unavailable): string {
  if (isUnavailable(beyond) || isUnavailable(left)) return 'All balls land alike';
  const off = [
    { mean: beyond, side: DEPTH },
    { mean: left, side: ACROSS },
  ];
  const shown = off.filter(({ mean }) => mean.low > 0 || mean.high < 0);
  const open = off.filter(({ mean }) => mean.low <= 0 && mean.high >= 0);
  const unshown = open.map(
    ({ mean, side }) => `${offCm(mean.low, side)} to ${offCm(mean.high, side)}`,
  );
  if (shown.length === 0)
    return `Not shown that balls land off the middle of the target on average: ${unshown.join(' and ')}`;
  const where = shown.map(({ mean, side }) => shownWords(mean, side)).join(' and ');
  const sure = `Balls land ${where} of the middle of the target on average`;
  return open.length === 0 ? sure : `${sure}; the other way nothing is shown: ${unshown.join()}`;
}

/** For instance '12.0 cm (5.2 to 18.8) short', of a mean whose interval leaves out 0. */
function shownWords({ value, low, high }: Estimate, [ahead, behind]: Side): string {
  return value < 0
    ? `${inCm(-value)} cm (${inCm(-high)} to ${inCm(-low)}) ${behind}`
    : `${inCm(value)} cm (${inCm(low)} to ${inCm(high)}) ${ahead}`;
}

function offCm(metres: number, [ahead, behind]: Side): string {
  return `${inCm(Math.abs(metres))} cm ${metres < 0 ? behind : ahead}`;
}

function withInterval({ value, low, high }: Estimate, print: (x: number) => string): string {
  return `${print(value)} (${print(low)} to ${print(high)})`;
}

function inCm(metres: number): string {
  return (100 * metres).toFixed(1);
}

function inPercent(share: number): string {
  return (100 * share).toFixed(0);
}
