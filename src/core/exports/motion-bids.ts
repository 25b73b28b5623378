import { SEGMENTS, type Segment } from '../arm/segments.ts';
import type { LiveView } from '../pipeline/outputs.ts';
import type { SetDescription } from '../recording/set-description.ts';
import type { SetRecord } from '../recording/set-record.ts';
import { eventsJson, eventsTsv } from './bids-events.ts';
import {
  acquisitionTime,
  type BidsPlace,
  bidsPlaces,
  motionFolder,
  recordingName,
} from './bids-names.ts';
import { bidsRecording } from './bids-recording.ts';
import { columnsJson, jsonText, type TsvColumn, tsvText } from './tsv.ts';

/** A set to share. `records` and `view` are asked for once, when its turn comes, and may be getters. */
export interface SetToShare {
  readonly description: SetDescription;
  readonly records: readonly SetRecord[];
  /** Read with hindsight. */
  readonly view: Pick<LiveView, 'swings' | 'blocks'>;
}

/** What only people can say of a data set. */
export interface DatasetAbout {
  readonly name: string;
  /** Under which licence others may use it, for instance `CC0`, `CC-BY-4.0` or `n/a`. */
  readonly license: string;
  readonly programVersion: string;
}

/** A file of the data set: its path, `/` between folders, and its text in pieces that follow each other. */
export interface DatasetFile {
  readonly path: string;
  readonly parts: readonly string[];
}

const BIDS_VERSION = '1.10.0';

/** Events name the tracking system that feels the contact. */
const EVENTS_SEGMENT: Segment = 'implement';

interface Scan {
  /** Relative to the folder of the session. */
  readonly filename: string;
  readonly acquiredAt: string | null;
  readonly description: SetDescription;
}

/**
 * Sets as one Motion-BIDS data set, file after file.
 * Pseudonyms, dates and names of kit are in it; nothing else about a person is.
 * Source: BIDS specification 1.10, "Motion", "Dataset description", "Data summary files".
 * Checked: tests/exports/motion-bids.test.ts by rules of its own; by hand bids-validator 3.0.2 (PyPI
 *   bids-validator-deno) and 1.15.0 (npm): no errors
 */
export function* motionBids(
  sets: readonly SetToShare[],
  about: DatasetAbout,
): Generator<DatasetFile, void, void> {
  const descriptions = sets.map(({ description }) => description);
  const places = bidsPlaces(descriptions);
  yield* datasetFiles(about);
  yield file('participants.tsv', tsvText(PARTICIPANT_COLUMNS, participants(descriptions, places)));
  yield file('participants.json', columnsJson(PARTICIPANT_COLUMNS));
  const scans = new Map<string, Scan[]>();
  for (const [i, set] of sets.entries()) {
    const { subject, session } = places[i]!;
    const prefix = `${subject}/${session}/${subject}_${session}`;
    const found = yield* setFiles(set, places[i]!);
    scans.set(prefix, [...(scans.get(prefix) ?? []), ...found]);
  }
  for (const [prefix, found] of scans) {
    yield file(`${prefix}_scans.tsv`, tsvText(SCAN_COLUMNS, found));
    yield file(`${prefix}_scans.json`, columnsJson(SCAN_COLUMNS));
  }
}

/** @returns the recordings, for the list of scans */
function* setFiles(set: SetToShare, place: BidsPlace): Generator<DatasetFile, Scan[], void> {
  const { description, records, view } = set;
  const scans: Scan[] = [];
  for (const segment of SEGMENTS) {
    const recording = bidsRecording(records, segment);
    if (recording === null) continue;
    const path = `${motionFolder(place)}/${recordingName(place, segment)}`;
    yield { path: `${path}_motion.tsv`, parts: recording.motionTsv };
    yield file(`${path}_motion.json`, recording.motionJson);
    yield file(`${path}_channels.tsv`, recording.channelsTsv);
    yield file(`${path}_channels.json`, recording.channelsJson);
    if (segment === EVENTS_SEGMENT) {
      const events = eventsTsv(view.swings, view.blocks, recording.firstUs);
      yield file(`${path}_events.tsv`, events);
      yield file(`${path}_events.json`, eventsJson());
    }
    scans.push({
      filename: `motion/${recordingName(place, segment)}_motion.tsv`,
      acquiredAt: acquisitionTime(description.startedAtMs, recording.firstUs),
      description,
    });
  }
  return scans;
}

function* datasetFiles({
  name,
  license,
  programVersion,
}: DatasetAbout): Generator<DatasetFile, void, void> {
  yield file(
    'dataset_description.json',
    jsonText({
      Name: name,
      BIDSVersion: BIDS_VERSION,
      DatasetType: 'raw',
      License: license,
      GeneratedBy: [{ Name: 'Reach Funnel', Version: programVersion }],
    }),
  );
  yield file('README', readme(name));
}

function readme(name: string): string {
  return `${[
    name,
    '',
    'Striking movements measured by three inertial sensors: upper arm, forearm, implement.',
    'Each sensor is a tracking system of its own with its own rate. Times within a file are latencies',
    'since its first sample; acq_time in scans.tsv, to the microsecond, puts the files on one clock.',
    'Samples are as the sensors sent them: no bias removed, no bench calibration applied, gaps left out.',
    'Contacts, scores and the reach computed from the samples are events of the implement.',
    'Sessions are days (UTC), runs are sets. Participants go by pseudonyms.',
  ].join('\n')}\n`;
}

interface Participant {
  readonly id: string;
  readonly pseudonym: string;
  readonly handedness: string | null;
}

const PARTICIPANT_COLUMNS: readonly TsvColumn<Participant>[] = [
  { name: 'participant_id', Description: 'Participant.', of: ({ id }) => id },
  {
    name: 'handedness',
    Description: 'Striking arm; n/a where sets differ.',
    Levels: { left: 'left', right: 'right' },
    of: ({ handedness }) => handedness,
  },
  {
    name: 'pseudonym',
    Description: 'Name under which the sets were recorded.',
    of: ({ pseudonym }) => pseudonym,
  },
];

function participants(
  descriptions: readonly SetDescription[],
  places: readonly BidsPlace[],
): Participant[] {
  const found = new Map<string, Participant>();
  for (const [i, { player, handedness }] of descriptions.entries()) {
    const id = places[i]!.subject;
    const known = found.get(id);
    const isSame = known === undefined || known.handedness === handedness;
    found.set(id, { id, pseudonym: player, handedness: isSame ? handedness : null });
  }
  return [...found.values()];
}

const SCAN_COLUMNS: readonly TsvColumn<Scan>[] = [
  { name: 'filename', Description: 'Recording.', of: ({ filename }) => filename },
  {
    name: 'acq_time',
    Description: 'When its first sample was taken, UTC.',
    of: ({ acquiredAt }) => acquiredAt,
  },
  {
    name: 'set_id',
    Description: 'Name of the set in the program that recorded it.',
    of: ({ description }) => description.setId,
  },
  {
    name: 'source',
    Description: 'Where the samples came from.',
    Levels: {
      sensors: 'inertial sensors',
      simulated: 'a simulation: no person swung',
      imported: 'a table of another program',
    },
    of: ({ description }) => description.source,
  },
  {
    name: 'implement',
    Description: 'Implement of the first block; of each contact: events.tsv.',
    of: ({ description }) => description.implement,
  },
  {
    name: 'ball',
    Description: 'Ball of the first block; of each contact: events.tsv.',
    of: ({ description }) => description.ball,
  },
];

function file(path: string, text: string): DatasetFile {
  return { path, parts: [text] };
}
