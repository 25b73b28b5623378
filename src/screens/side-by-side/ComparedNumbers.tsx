import type { ComparedName } from '../../core/measures/comparison-measure.ts';
import { COMPARED } from '../../core/measures/comparison-words.ts';
import { Picture } from '../pictures/Picture.tsx';
import { AllNumbers } from './AllNumbers.tsx';
import { bothPictures } from './both-pictures.ts';
import { cautionsOf } from './compared-pair.ts';
import { MeasureCard } from './MeasureCard.tsx';
import type { SideBySideModel } from './side-by-side-model.ts';

const NAMES = Object.keys(COMPARED) as ComparedName[];

interface Props {
  readonly model: SideBySideModel;
  readonly player: string;
}

/** Cautions, measures and pictures of what has been compared; nothing until it is. */
export function ComparedNumbers({ model, player }: Props) {
  const [compared, pair] = [model.compared.value, model.pair.value];
  if (compared === null || pair === null) return null;
  const { comparison, isScoredAlike } = compared;
  const cautions = cautionsOf(pair, isScoredAlike);
  return (
    <>
      {cautions.length > 0 && (
        <section class="side-cautions" aria-labelledby="side-cautions-head">
          <h2 id="side-cautions-head">Before you read the numbers</h2>
          <ul>
            {cautions.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </section>
      )}
      <section class="side-part" aria-labelledby="side-measures-head">
        <h2 id="side-measures-head">Measure by measure</h2>
        <p class="soft">
          The dot is the difference found, the bar the range it may really have (95 % interval). Of
          so many measures one or two differ by chance alone, so each has to show more than its bar
          before it speaks for a side.
        </p>
        <div class="measure-grid">
          {NAMES.map((name) => (
            <MeasureCard
              key={name}
              measure={comparison.measures[name]}
              pair={pair}
              comparison={comparison}
            />
          ))}
        </div>
        <details class="side-more">
          <summary>All numbers</summary>
          <p class="soft">
            p is how often chance alone would make a difference this large; after Holm, with all
            measures looked at together.
          </p>
          <AllNumbers comparison={comparison} pair={pair} />
        </details>
      </section>
      <section class="side-part" aria-labelledby="side-pictures-head">
        <h2 id="side-pictures-head">Both in pictures</h2>
        <div class="measure-grid">
          {bothPictures(compared, pair).map((spec) => (
            <Picture key={spec.id} spec={spec} fileStem={`${player}-a-b`} />
          ))}
        </div>
      </section>
    </>
  );
}
