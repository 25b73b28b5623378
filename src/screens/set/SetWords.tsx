import type { SetMeasures } from '../../core/measures/measure-set.ts';
import {
  areaWords,
  dimensionWords,
  headingWords,
  landingWords,
  reachWords,
  scoreWords,
} from '../../core/measures/number-words.ts';
import { MEASURES, unavailableWords } from '../../core/measures/thresholds.ts';
import { unknownVerdict, type Verdict } from '../../core/measures/verdict.ts';
import { isUnavailable, type Unavailable } from '../../core/statistics/estimate.ts';

interface Props {
  readonly measures: Partial<SetMeasures>;
  /** false while some are still being computed. */
  readonly isComplete: boolean;
}

/** What the measures of a set say, in whole sentences; each appears as soon as it is computed. */
export function SetWords({ measures, isComplete }: Props) {
  const sentences = sentencesOf(measures);
  return (
    <section class="set-words" aria-label="What these swings say" aria-busy={!isComplete}>
      <h2>What these swings say</h2>
      <ul>
        {sentences.map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
      {!isComplete && (
        <p class="soft" role="status">
          Computing…
        </p>
      )}
    </section>
  );
}

function sentencesOf(measures: Partial<SetMeasures>): readonly string[] {
  return [...numbersOf(measures), ...verdictsOf(measures)].filter((words) => words !== null);
}

/** What is a number; null where there is nothing to say. */
function numbersOf({
  n = 0,
  angleN,
  reach,
  score,
  arm,
}: Partial<SetMeasures>): readonly (string | null)[] {
  const scoreKnown = score !== undefined && !isUnavailable(score) ? score : null;
  return [
    reach === undefined ? null : reachWords(reach),
    score === undefined || !isUnavailable(score)
      ? null
      : `Not known how the balls score: ${unavailableWords(score)}.`,
    scoreKnown && scoreWords(scoreKnown),
    scoreKnown && landingWords(scoreKnown.landing),
    angleN === undefined ? null : headingWords(n, angleN),
    arm === undefined ? null : dimensionWords(arm.effectiveDimension),
    arm === undefined ? null : areaWords(arm.stateSpaceArea),
  ];
}

function verdictsOf({
  n = 0,
  angleN = 0,
  funnel,
  sweetSpot,
  feedback,
  arm,
  manifold,
  accuracySplit,
}: Partial<SetMeasures>): readonly string[] {
  const judged = [
    funnel,
    ...Object.values(arm?.verdicts ?? {}).map((verdict) => ({ verdict })),
    sweetSpot,
    known(feedback, MEASURES.feedback, n),
    known(manifold, MEASURES.manifold, angleN),
    known(accuracySplit, MEASURES.accuracySplit, angleN),
  ];
  return judged.flatMap((measure) => (measure === undefined ? [] : [measure.verdict.words]));
}

/** A measure with its verdict, or the verdict that says why there is none; undefined while it is computed. */
function known(
  measure: { readonly verdict: Verdict<string> } | Unavailable | undefined,
  entry: Parameters<typeof unknownVerdict>[0],
  n: number,
): { readonly verdict: Verdict<string> } | undefined {
  if (measure === undefined || !isUnavailable(measure)) return measure;
  return { verdict: unknownVerdict(entry, n, measure) };
}
