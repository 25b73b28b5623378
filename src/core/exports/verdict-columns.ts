import { isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { SWING_POINTS } from '../swings/swing.ts';
import type { SetRow } from './set-row.ts';
import { type ColumnOf, columnsOver } from './table.ts';

const { text, number, integer, truth } = columnsOver<SetRow>();

const CONTACT = SWING_POINTS - 1;

/** What the measures answer, and numbers that go with an answer, in order. */
export const VERDICT_COLUMNS: readonly ColumnOf<SetRow>[] = [
  number(
    'reach_floor_m',
    'm',
    'Measurement floor of the spread at contact: what errors alone would make of it.',
    ({ view }) => view.funnel.floorM[CONTACT] ?? null,
  ),
  number(
    'sweet_spot_reach_m',
    'm',
    'Reach with the best expected score; null when no sweet spot was found.',
    ({ measures }) => measures.sweetSpot.place?.bestM.value ?? null,
  ),
  number(
    'sweet_spot_reach_m_low',
    'm',
    'Lower end of the 95 % interval of sweet_spot_reach_m.',
    ({ measures }) => measures.sweetSpot.place?.bestM.low ?? null,
  ),
  number(
    'sweet_spot_reach_m_high',
    'm',
    'Upper end of the 95 % interval of sweet_spot_reach_m.',
    ({ measures }) => measures.sweetSpot.place?.bestM.high ?? null,
  ),
  integer(
    'sweet_spot_n',
    'Scored swings asked for a sweet spot.',
    ({ measures }) => measures.sweetSpot.n,
  ),
  number(
    'sweet_spot_from_m',
    'm',
    'Shortest reach expected to score within one point of the best; null when no sweet spot was found, or no such end of it.',
    ({ measures }) => measures.sweetSpot.place?.fromM ?? null,
  ),
  number(
    'sweet_spot_to_m',
    'm',
    'Longest reach expected to score within one point of the best; null as sweet_spot_from_m.',
    ({ measures }) => measures.sweetSpot.place?.toM ?? null,
  ),
  number(
    'sweet_spot_half_width_m',
    'm',
    'Half of sweet_spot_to_m less sweet_spot_from_m; null when either is.',
    ({ measures: { sweetSpot } }) => {
      const { fromM, toM } = sweetSpot.place ?? { fromM: null, toM: null };
      return fromM === null || toM === null ? null : (toM - fromM) / 2;
    },
  ),
  truth(
    'funnel_shown',
    'All guards agree that reach narrows toward contact.',
    ({ measures }) => measures.funnel.verdict.isShown,
  ),
  text(
    'funnel_failing',
    'Guards that do not agree, with spaces between; null when all do or the set is too small.',
    ({ measures }) => measures.funnel.verdict.failing.join(' '),
  ),
  text(
    'funnel_words',
    'The verdict as a coach reads it.',
    ({ measures }) => measures.funnel.verdict.words,
  ),
  ...(
    [
      ['sweet_spot', ({ measures }) => measures.sweetSpot.verdict.answer],
      ['feedback', ({ measures }) => answerOf(measures.feedback)],
      ['share', ({ measures }) => measures.arm.verdicts.share.answer],
      ['hand_over', ({ measures }) => measures.arm.verdicts.handOver.answer],
      ['coupling', ({ measures }) => measures.arm.verdicts.coupling.answer],
      ['elbow', ({ measures }) => measures.arm.verdicts.elbow.answer],
      ['manifold', ({ measures }) => answerOf(measures.manifold)],
      ['accuracy_split', ({ measures }) => answerOf(measures.accuracySplit)],
    ] as const satisfies readonly (readonly [string, (row: SetRow) => string])[]
  ).map(([name, of]) => text(`${name}_verdict`, 'What the measure answers, in one word.', of)),
];

function answerOf(
  measure: { readonly verdict: { readonly answer: string } } | Unavailable,
): string {
  return isUnavailable(measure) ? 'unknown' : measure.verdict.answer;
}
