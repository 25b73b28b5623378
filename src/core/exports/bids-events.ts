import type { ScoredSwing } from '../pipeline/outputs.ts';
import type { Condition } from '../recording/set-record.ts';
import { columnsJson, type TsvColumn, tsvText } from './tsv.ts';

/** One event: a swing, at its contact. */
interface ContactEvent extends ScoredSwing {
  readonly onsetS: number;
  readonly condition: Condition;
}

const COLUMNS: readonly TsvColumn<ContactEvent>[] = [
  {
    name: 'onset',
    Description:
      'Contact, since the first sample of this tracking system; of an air swing its fastest turning.',
    Units: 's',
    of: ({ onsetS }) => onsetS.toFixed(6),
  },
  { name: 'duration', Description: 'A contact has none.', Units: 's', of: () => 0 },
  {
    name: 'trial_type',
    Description: 'What happened.',
    Levels: {
      contact: 'the implement met the ball',
      air_swing: 'a fast swing that met nothing',
    },
    of: ({ swing }) => (swing.voidReason === 'air-swing' ? 'air_swing' : 'contact'),
  },
  {
    name: 'swing',
    Description: 'Place of the swing in the set, from 1.',
    of: ({ swing }) => swing.index + 1,
  },
  {
    name: 'implement',
    Description: 'Implement the ball was struck with.',
    of: ({ condition }) => condition.implement,
  },
  { name: 'ball', Description: 'Ball that was struck.', of: ({ condition }) => condition.ball },
  {
    name: 'score',
    Description: "The coach's points for where the ball went.",
    of: ({ points }) => points,
  },
  {
    name: 'swing_duration',
    Description: 'From the start of the forward swing to contact, as this program found it.',
    Units: 's',
    of: ({ swing }) =>
      swing.voidReason === null ? (swing.contactTimeUs - swing.startTimeUs) / 1e6 : null,
  },
  {
    name: 'reach',
    Description: 'Shoulder to sweet spot at contact, as this program computed it.',
    Units: 'm',
    of: ({ swing }) => swing.reachM,
  },
  {
    name: 'reach_standard_error',
    Description: 'Standard error of reach.',
    Units: 'm',
    of: ({ swing }) => swing.reachStandardErrorM,
  },
  {
    name: 'void_reason',
    Description: 'Why there is no reach.',
    of: ({ swing }) => swing.voidReason,
  },
  {
    name: 'discarded',
    Description: 'Whether the coach discarded the swing: 1 or 0.',
    of: ({ discarded }) => (discarded ? 1 : 0),
  },
];

/**
 * Contacts and scores of a set as BIDS events, by their onset.
 * @param conditions of the blocks @param firstUs host time of the tracking system's first sample, microseconds
 * Source: BIDS specification, "Events": onset and duration first; "Motion": one tracking system named.
 */
export function eventsTsv(
  swings: readonly ScoredSwing[],
  conditions: readonly Condition[],
  firstUs: number,
): string {
  const events = swings.map((scored) => ({
    ...scored,
    onsetS: (scored.swing.contactTimeUs - firstUs) / 1e6,
    condition: conditions[scored.block]!,
  }));
  return tsvText(
    COLUMNS,
    events.sort((a, b) => a.onsetS - b.onsetS),
  );
}

/** What the columns of the events mean. */
export function eventsJson(): string {
  return columnsJson(COLUMNS);
}
