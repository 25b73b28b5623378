import type { ManifoldSpread } from '../measures/uncontrolled-manifold.ts';
import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { SWING_POINTS } from '../swings/swing.ts';
import type { SetRow } from './set-row.ts';
import { type ColumnOf, columnsOver } from './table.ts';

const { text, number, integer } = columnsOver<SetRow>();

type Answer = Estimate | Unavailable;

const CONTACT = SWING_POINTS - 1;
/** Places of contact among tenths of the swing (0, 10, .. 100 %) and among the stretches between them. */
const TENTH_AT_CONTACT = 10;
const LAST_BIN = 9;

/** One measure of the table of sets: five columns. */
interface MeasureOf {
  /** Its unit is at the end, as in a column. */
  readonly name: string;
  readonly unit: string | null;
  readonly meaning: string;
  readonly of: (row: SetRow) => Answer;
}

/**
 * The measures of a set that are exported, in order; docs and files take names and meanings from here.
 * Intervals are those of the measures themselves, at 95 %.
 */
export const EXPORTED_MEASURES: readonly MeasureOf[] = [
  {
    name: 'mean_reach_m',
    unit: 'm',
    meaning: 'Mean reach at contact',
    of: ({ measures }) => measures.reach.meanM,
  },
  {
    name: 'reach_spread_m',
    unit: 'm',
    meaning: 'SD of reach at contact, errors of measurement included',
    of: ({ measures }) => measures.reach.spreadM,
  },
  {
    name: 'narrowing_ratio',
    unit: null,
    meaning: 'SD of reach at contact over the widest of the swing, both without the floor',
    of: (row) => part(part(evidenceOf(row), 'narrowing'), 'interval'),
  },
  {
    name: 'carry_over',
    unit: null,
    meaning: 'Correlation of reach at mid-swing with reach at contact',
    of: (row) => part(part(evidenceOf(row), 'carryOver'), 'fromMid'),
  },
  {
    name: 'geometry_ratio',
    unit: null,
    meaning: 'SD of reach at contact over what the posture alone makes of the spread at mid-swing',
    of: (row) => part(part(evidenceOf(row), 'geometryNull'), 'interval'),
  },
  {
    name: 'score_mean',
    unit: null,
    meaning: 'Mean points of the scored swings',
    of: ({ measures }) => part(measures.score, 'mean'),
  },
  {
    name: 'hit_rate',
    unit: null,
    meaning: 'Share of scored balls with full points',
    of: ({ measures }) => part(measures.score, 'hitRate'),
  },
  ...['upper_arm', 'forearm', 'implement'].map((segment, k) => ({
    name: `${segment}_share_at_contact`,
    unit: null,
    meaning: `Signed share of the ${segment.replace('_', ' ')} in the variance of reach over the last tenth of the swing`,
    of: ({ measures: { arm } }: SetRow) =>
      isUnavailable(arm.shares) ? arm.shares : arm.shares.bins[LAST_BIN]!.signed[k]!,
  })),
  {
    name: 'distal_share',
    unit: null,
    meaning: 'Signed share of forearm and implement together over the whole swing',
    of: ({ measures: { arm } }) =>
      isUnavailable(arm.shares) ? arm.shares : arm.shares.wholeSwing.distal,
  },
  {
    name: 'hand_over_index',
    unit: null,
    meaning: 'Largest jump of a share of own variance between tenths of the last 30 % of the swing',
    of: ({ measures: { arm } }) => part(part(arm.shares, 'handOver'), 'index'),
  },
  {
    name: 'upper_arm_forearm_correlation',
    unit: null,
    meaning: 'Correlation over swings of the in-plane angles of upper arm and forearm at contact',
    of: ({ measures: { arm } }) =>
      isUnavailable(arm.coupling) ? arm.coupling : arm.coupling.upperArmForearm[CONTACT]!,
  },
  {
    name: 'elbow_wrist_correlation',
    unit: null,
    meaning: 'Correlation over swings of the in-plane angles of elbow and wrist at contact',
    of: ({ measures: { arm } }) =>
      isUnavailable(arm.coupling) ? arm.coupling : arm.coupling.elbowWrist[CONTACT]!,
  },
  {
    name: 'elbow_excursion_rad',
    unit: 'rad',
    meaning: 'Largest less smallest elbow angle of a swing, mean over swings',
    of: ({ measures: { arm } }) => part(arm.freezing, 'elbowExcursionRad'),
  },
  {
    name: 'wrist_excursion_rad',
    unit: 'rad',
    meaning: 'Largest less smallest in-plane wrist angle of a swing, mean over swings',
    of: ({ measures: { arm } }) => part(arm.freezing, 'wristExcursionRad'),
  },
  {
    name: 'segment_dimension',
    unit: null,
    meaning: 'Effective dimension of the three segment angles at contact, 1 to 3',
    of: ({ measures: { arm } }) => atContact(arm.effectiveDimension, 'segments'),
  },
  {
    name: 'joint_dimension',
    unit: null,
    meaning: 'Effective dimension of elbow and wrist at contact, 1 to 2',
    of: ({ measures: { arm } }) => atContact(arm.effectiveDimension, 'joints'),
  },
  {
    name: 'elbow_wrist_area_rad2',
    unit: 'rad^2',
    meaning: 'Area of the plane of elbow and wrist that four swings pass through',
    of: ({ measures: { arm } }) => part(part(arm.stateSpaceArea, 'elbowWrist'), 'visitedRad2'),
  },
  {
    name: 'joint_delta_vz',
    unit: null,
    meaning:
      'UCM of elbow and wrist at contact: half the logarithm of V_UCM over V_ORT; above 0 they steady reach',
    of: (row) => manifoldOf(row, 'joints'),
  },
  {
    name: 'segment_delta_vz',
    unit: null,
    meaning: 'The same of the three segment angles, which every turn of the whole arm inflates',
    of: (row) => manifoldOf(row, 'segments'),
  },
  {
    name: 'feedback_sd_ratio',
    unit: null,
    meaning: 'SD of reach on balls with full points over that on all others',
    of: ({ measures }) => part(measures.feedback, 'sdRatio'),
  },
  {
    name: 'tells_poor_auc',
    unit: null,
    meaning: 'How well distance from the sweet spot tells a poor ball: area under the ROC curve',
    of: ({ measures }) => part(measures.feedback, 'tellsPoor'),
  },
  {
    name: 'reach_difference_g',
    unit: null,
    meaning: "Hedges' g of reach at contact, balls with full points less poor ones",
    of: ({ measures }) => part(measures.accuracySplit, 'reachDifference'),
  },
];

/** Value, interval, n and, where there is no value, why. */
function fiveColumns({ name, unit, meaning, of }: MeasureOf): ColumnOf<SetRow>[] {
  const read =
    <Key extends 'value' | 'low' | 'high' | 'n'>(key: Key) =>
    (row: SetRow) => {
      const answer = of(row);
      return isUnavailable(answer) ? null : answer[key];
    };
  return [
    number(name, unit, `${meaning}; null: see ${name}_missing.`, read('value')),
    number(`${name}_low`, unit, `Lower end of the 95 % interval of ${name}.`, read('low')),
    number(`${name}_high`, unit, `Upper end of the 95 % interval of ${name}.`, read('high')),
    integer(`${name}_n`, `Swings that entered ${name}.`, read('n')),
    text(`${name}_missing`, `Why there is no ${name}; null when there is one.`, (row) => {
      const answer = of(row);
      return isUnavailable(answer) ? answer.reason : null;
    }),
  ];
}

/** Five columns for each of them, in order. */
export const MEASURE_COLUMNS: readonly ColumnOf<SetRow>[] = EXPORTED_MEASURES.flatMap(fiveColumns);

/** What the verdict on the funnel rests on; without it the set is too small or its reach unusable. */
function evidenceOf({ measures: { funnel } }: SetRow) {
  const { n, minimumN } = funnel.verdict;
  const tooFew: Unavailable = { reason: 'too-few', need: minimumN, have: n };
  return funnel.evidence ?? (n < minimumN ? tooFew : ({ reason: 'no-spread' } as const));
}

/** A part of an answer, or why there is none. */
function part<Whole, Key extends keyof Whole>(
  whole: Whole | Unavailable,
  key: Key,
): Whole[Key] | Unavailable {
  return isUnavailable(whole) ? whole : whole[key];
}

function atContact<Key extends string>(
  tenths: Readonly<Record<Key, readonly Answer[]>> | Unavailable,
  key: Key,
): Answer {
  return isUnavailable(tenths) ? tenths : tenths[key][TENTH_AT_CONTACT]!;
}

function manifoldOf({ measures: { manifold } }: SetRow, elements: 'joints' | 'segments'): Answer {
  if (isUnavailable(manifold)) return manifold;
  const spread: ManifoldSpread | Unavailable = manifold.at[TENTH_AT_CONTACT]![elements].all;
  return part(spread, 'deltaVz');
}
