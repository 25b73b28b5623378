import type { SetMeasures } from '../../core/measures/measure-set.ts';
import { isUnavailable } from '../../core/statistics/estimate.ts';

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
  const { funnel, sweetSpot, feedback, arm, manifold, accuracySplit } = measures;
  const judged = [
    funnel,
    ...(arm === undefined ? [] : Object.values(arm.verdicts).map((verdict) => ({ verdict }))),
    sweetSpot,
    feedback,
    manifold,
    accuracySplit,
  ];
  return judged.flatMap((measure) =>
    measure === undefined || isUnavailable(measure) ? [] : [measure.verdict.words],
  );
}
