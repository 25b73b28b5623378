import { ACCURACY_CLASSES } from '../../core/measures/accuracy-classes.ts';
import { MEASURES } from '../../core/measures/thresholds.ts';
import { unknownVerdict } from '../../core/measures/verdict.ts';
import { isUnavailable } from '../../core/statistics/estimate.ts';
import { takeRows } from '../../core/statistics/resampling.ts';
import type { PictureSpec, PictureView } from './picture-spec.ts';
import {
  CLASS_LOOKS,
  CM,
  countedSwings,
  estimateCells,
  type ReadSet,
  rowsByClass,
} from './read-set.ts';
import { SpreadRows, spreadRow } from './SpreadRows.tsx';
import { extentOf, roundRange } from './scale.ts';

/** How steady reach is on accurate and on poor balls. */
export function spreadByClassPicture(read: ReadSet): PictureSpec | null {
  const { feedback, n = 0 } = read.measures;
  if (feedback === undefined) return null;
  const hasScores = countedSwings(read).some(({ points }) => points !== null);
  return {
    id: 'spread-by-class',
    title: 'Feedback: is reach steadier on accurate balls?',
    words: isUnavailable(feedback)
      ? unknownVerdict(MEASURES.feedback, n, feedback).words
      : feedback.verdict.words,
    explanation:
      'Each mark is a ball, in one row per class of score. The bar below a row runs one standard deviation to either side of the mean: about two thirds of the balls lie within it. Where reach is much steadier on accurate balls than on the others, reach itself tells them apart.',
    source: 'Ratio of standard deviations; Brown & Forsythe 1974.',
    views: hasScores ? [rowsView(read)] : [],
  };
}

function rowsView(read: ReadSet): PictureView {
  const swings = countedSwings(read);
  const reach = Float64Array.from(swings, ({ swing }) => CM * swing.reachM);
  const byClass = rowsByClass(swings, read.description);
  const present = ACCURACY_CLASSES.filter((name) => byClass[name].length > 0);
  const classes = present.map((name) => {
    const look = CLASS_LOOKS[name];
    const values = takeRows(reach, byClass[name]);
    return spreadRow({ label: look.label, values, look, isHollow: false });
  });
  const [low, high] = extentOf(
    classes.flatMap(({ values }) => [...values]),
    [0, 1],
  );
  const across = roundRange(low - 0.5, high + 0.5, 6);
  return {
    label: 'reach by class',
    aspect: 0.35 + 0.13 * classes.length,
    alternative: classes
      .map(({ label, values, spread }) =>
        isUnavailable(spread)
          ? `${values.length} ${label} balls.`
          : `${values.length} ${label} balls spread by ${spread.value.toFixed(1)} cm.`,
      )
      .join(' '),
    draw: (size) => (
      <SpreadRows
        size={size}
        x={{ low: across[0], high: across[1], label: 'Reach at contact, cm' }}
        yLabel="Balls, by score"
        rows={classes}
      />
    ),
    table: {
      columns: [
        { name: 'Balls', digits: 0 },
        { name: 'Number', digits: 0 },
        { name: 'Mean reach, cm', digits: 1 },
        { name: 'Mean, 95 % from, cm', digits: 1 },
        { name: 'Mean, 95 % to, cm', digits: 1 },
        { name: 'Spread (SD), cm', digits: 2 },
        { name: 'Spread, 95 % from, cm', digits: 2 },
        { name: 'Spread, 95 % to, cm', digits: 2 },
      ],
      rows: classes.map(({ label, values, mean, spread }) => [
        label,
        values.length,
        ...estimateCells(mean),
        ...estimateCells(spread),
      ]),
    },
  };
}
