import type { AxisError, LandingError } from '../core/measures/landing-error.ts';
import { unavailableWords } from '../core/measures/thresholds.ts';
import { isUnavailable, type Unavailable } from '../core/statistics/estimate.ts';
import { inCm, likely } from './plain-numbers.ts';
import type { ReportedSet } from './reported-set.ts';

/** How the balls scored and where they landed. Checked: tests/reports/plain-report.test.ts */
export function hitSentences({ measures, description }: ReportedSet): string[] {
  const { score, n } = measures;
  if (isUnavailable(score)) return [`Not known: ${unavailableWords(score)}.`];
  const full = Math.max(0, ...description.scoreSteps);
  return [
    ...scoreSentences(score, n, full),
    ...(isUnavailable(score.landing) ? [] : [landingSentence(score.landing)]),
  ];
}

function scoreSentences(
  score: Exclude<ReportedSet['measures']['score'], Unavailable>,
  n: number,
  full: number,
): string[] {
  const { hitRate, mean } = score;
  if (isUnavailable(hitRate)) return ['The balls were not scored.'];
  const hits = Math.round(hitRate.value * score.n);
  const inHundred = (share: number) => (100 * share).toFixed(0);
  return [
    `${hits} of ${score.n} scored balls got full points (${full}). Over very many balls like these that would be ${likely(hitRate, inHundred)} in 100.`,
    ...(isUnavailable(mean)
      ? mean.reason === 'no-spread'
        ? ['All balls scored alike.']
        : []
      : [
          `A ball scored ${mean.value.toFixed(1)} of ${full} points on average (${likely(mean, (x) => Math.min(full, Math.max(0, x)).toFixed(1))}).`,
        ]),
    ...(score.n < n ? [`${n - score.n} of the ${n} swings have no score.`] : []),
  ];
}

/** A lean to one side is said only where its whole interval lies on that side. */
function landingSentence({ n, beyond, left }: LandingError): string {
  const leans = [leanWords(beyond, 'beyond', 'short of'), leanWords(left, 'left of', 'right of')];
  const shown = leans.filter((words) => words !== null);
  return shown.length === 0
    ? `The ${n} balls seen to land lay around the middle of the target: no lean to one side is shown.`
    : `On average the ${n} balls seen to land lay ${shown.join(' and ')} the middle of the target.`;
}

function leanWords({ constantM }: AxisError, ahead: string, behind: string): string | null {
  if (isUnavailable(constantM) || (constantM.low <= 0 && constantM.high >= 0)) return null;
  const { value } = constantM;
  return `${inCm(Math.abs(value))} cm ${value > 0 ? ahead : behind}`;
}
