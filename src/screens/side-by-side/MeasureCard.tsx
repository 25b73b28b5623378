import type { ComparedMeasure, Comparison } from '../../core/measures/comparison.ts';
import { COMPARED } from '../../core/measures/comparison-words.ts';
import { LETTERS } from './comparable.ts';
import type { ComparedPair } from './compared-pair.ts';
import { DifferenceBar } from './DifferenceBar.tsx';
import { differenceAxis } from './difference-axis.ts';
import { LetterBadge } from './LetterBadge.tsx';
import { toldMeasure } from './measure-words.ts';
import { nameOf } from './pair-kits.ts';

interface Props {
  readonly measure: ComparedMeasure;
  readonly pair: ComparedPair;
  readonly comparison: Comparison;
}

/** One measure: both values, how far they differ, and what follows. */
export function MeasureCard({ measure, pair, comparison }: Props) {
  const { title, what, values, difference, verdict, favours } = toldMeasure(
    measure,
    pair,
    comparison,
  );
  const axis = differenceAxis(measure, pair);
  const { why, source } = COMPARED[measure.name];
  const id = `measure-${measure.name}`;
  return (
    <section class="measure" id={id} aria-labelledby={`${id}-title`}>
      <h3 id={`${id}-title`}>{title}</h3>
      <p class="soft">{what}</p>
      <dl class="measure-values">
        {LETTERS.map((letter) => (
          <div key={letter}>
            <dt>
              <LetterBadge letter={letter} name={nameOf(pair, letter)} />
            </dt>
            <dd>{values[letter]}</dd>
          </div>
        ))}
      </dl>
      {axis !== null && <DifferenceBar axis={axis} />}
      <p class={favours === null ? '' : 'measure-shown'}>{verdict}</p>
      {difference !== null && <p class="soft">{difference}</p>}
      <details class="side-more">
        <summary>Why it is compared</summary>
        <p>{why}</p>
        <p class="soft">Source: {source}</p>
      </details>
    </section>
  );
}
