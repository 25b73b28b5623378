import type { SetDescription } from '../recording/set-description.ts';

/** Where the files of one set go. */
export interface BidsPlace {
  /** `sub-<label>` and `ses-<label>`. */
  readonly subject: string;
  readonly session: string;
  /** Among the sets of this player on this day, from 1. */
  readonly run: number;
}

/** The one task of this program; BIDS derives the label from it by leaving out all but letters and digits. */
export const TASK_NAME = 'striking';

/**
 * A place for each set: players by pseudonym, days (UTC) as sessions, sets of a day as runs by their beginning.
 * @returns in the order of `descriptions`; labels hold letters and digits only, and no two players share one, nor
 *   one that differs in upper and lower case alone
 * Source: BIDS specification, "Filenames": labels are alphanumeric, an index is a whole number.
 * Checked: tests/exports/motion-bids.test.ts
 */
export function bidsPlaces(descriptions: readonly SetDescription[]): BidsPlace[] {
  const labels = subjectLabels(descriptions.map(({ player }) => player));
  const runs = new Map<string, number>();
  const places = new Map<number, BidsPlace>();
  const inTime = descriptions
    .map((description, i) => ({ description, i }))
    .sort((a, b) => a.description.startedAtMs - b.description.startedAtMs);
  for (const { description, i } of inTime) {
    const subject = `sub-${labels.get(description.player)!}`;
    const session = `ses-${dayOf(description.startedAtMs)}`;
    const run = (runs.get(`${subject}/${session}`) ?? 0) + 1;
    runs.set(`${subject}/${session}`, run);
    places.set(i, { subject, session, run });
  }
  return descriptions.map((_, i) => places.get(i)!);
}

/** Folder of a set's recordings. */
export function motionFolder({ subject, session }: BidsPlace): string {
  return `${subject}/${session}/motion`;
}

/** Beginning of the names of a tracking system's files. */
export function recordingName(
  { subject, session, run }: BidsPlace,
  trackingSystem: string,
): string {
  return `${subject}_${session}_task-${TASK_NAME}_tracksys-${trackingSystem}_run-${run}`;
}

/**
 * Date and time of an instant of a set, UTC, to the microsecond.
 * @param hostTimeUs since the start of the set
 * @returns null beyond what a date can hold
 * Source: BIDS specification, "Units": YYYY-MM-DDThh:mm:ss[.000000][Z].
 */
export function acquisitionTime(startedAtMs: number, hostTimeUs: number): string | null {
  const startS = Math.floor(startedAtMs / 1000);
  const restUs = Math.round(1000 * (startedAtMs - 1000 * startS) + hostTimeUs);
  const date = new Date(1000 * (startS + Math.floor(restUs / 1e6)));
  if (Number.isNaN(date.getTime())) return null;
  const fraction = String(restUs - 1e6 * Math.floor(restUs / 1e6)).padStart(6, '0');
  return `${date.toISOString().slice(0, -'.000Z'.length)}.${fraction}Z`;
}

function dayOf(startedAtMs: number): string {
  return new Date(startedAtMs)
    .toISOString()
    .split('T')[0]!
    .replace(/[^0-9]/g, '');
}

/** Label of each pseudonym. */
function subjectLabels(pseudonyms: readonly string[]): Map<string, string> {
  const labels = new Map<string, string>();
  const used = new Set<string>();
  for (const pseudonym of pseudonyms) {
    if (labels.has(pseudonym)) continue;
    // accents come off their letters; letters that are no Latin ones are left out
    const plain = pseudonym.normalize('NFKD').replace(/[^A-Za-z0-9]/g, '') || 'player';
    let label = plain;
    for (let i = 2; used.has(label.toLowerCase()); i++) label = `${plain}x${i}`;
    used.add(label.toLowerCase());
    labels.set(pseudonym, label);
  }
  return labels;
}
