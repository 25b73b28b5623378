import type { SetMeasures } from '../../core/measures/measure-set.ts';
import { headingWords, reachWords, scoreWords } from '../../core/measures/number-words.ts';
import { unavailableWords } from '../../core/measures/thresholds.ts';
import { isUnavailable } from '../../core/statistics/estimate.ts';
import { areaWords, dimensionWords } from './arm-words.ts';

interface Props {
  readonly measures: Partial<SetMeasures>;
  /** false while some are still being computed. */
  readonly isComplete: boolean;
}

/** The plain numbers of a set in whole sentences; the pictures say the rest. */
export function SetWords({ measures, isComplete }: Props) {
  return (
    <section class="set-words" aria-label="In numbers" aria-busy={!isComplete}>
      <h2>In numbers</h2>
      <ul>
        {sentencesOf(measures).map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
    </section>
  );
}

function sentencesOf({ n = 0, angleN, reach, score, arm }: Partial<SetMeasures>): string[] {
  return [
    reach === undefined ? null : reachWords(reach),
    score === undefined
      ? null
      : isUnavailable(score)
        ? `Not known how the balls score: ${unavailableWords(score)}.`
        : scoreWords(score),
    angleN === undefined ? null : headingWords(n, angleN),
    arm === undefined ? null : dimensionWords(arm.effectiveDimension),
    arm === undefined ? null : areaWords(arm.stateSpaceArea),
  ].filter((words) => words !== null);
}
