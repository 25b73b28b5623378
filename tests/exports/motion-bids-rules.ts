/**
 * Rules of Motion-BIDS, written from the specification and not from the exporter. Quoted from
 * bids-standard/bids-specification, src/modality-specific-files/motion.md unless another file is named, as
 * summarised in reference.md section I.
 */

/** Files of a data set by path. */
export type Dataset = ReadonlyMap<string, string>;

const COMPONENTS = ['x', 'y', 'z', 'quat_x', 'quat_y', 'quat_z', 'quat_w', 'n/a'];
/** Type and the unit its channels must have; null: any. ORNT has n/a for quaternions. */
const UNITS: Readonly<Record<string, readonly string[] | null>> = {
  ACCEL: ['m/s^2'],
  ANGACCEL: ['rad/s^2'],
  GYRO: ['rad/s'],
  JNTANG: ['deg'],
  LATENCY: ['s'],
  MAGN: ['T'],
  MISC: null,
  ORNT: ['rad', 'n/a'],
  POS: ['m'],
  VEL: ['m/s'],
};
/** "one channel for each spatial axis. Column component for the axis MUST be added" */
const SPATIAL = ['ACCEL', 'ANGACCEL', 'GYRO', 'MAGN', 'POS', 'VEL'];

const NAME =
  /^(sub-[A-Za-z0-9]+)\/(?:(ses-[A-Za-z0-9]+)\/)?motion\/(sub-[A-Za-z0-9]+)_(?:(ses-[A-Za-z0-9]+)_)?task-([A-Za-z0-9]+)_tracksys-([A-Za-z0-9]+)(?:_acq-[A-Za-z0-9]+)?(?:_run-[0-9]+)?_(motion|channels|events)\.(tsv|json)$/;

const table = (text: string): string[][] =>
  text
    .replace(/\n$/, '')
    .split('\n')
    .map((line) => line.split('\t'));

type Json = Record<string, unknown>;

/** @returns what breaks a rule, in words; empty when nothing does */
export function motionBidsFaults(files: Dataset): string[] {
  const paths = [...files.keys()];
  const motions = paths.filter((path) => path.endsWith('_motion.tsv'));
  return [
    ...datasetFaults(files),
    ...paths.filter((path) => path.includes('/motion/')).flatMap(nameFaults),
    ...motions.flatMap((path) => recordingFaults(files, path)),
    ...scanFaults(files, motions),
    ...participantFaults(files, paths),
    ...paths
      .filter((path) => path.endsWith('_events.tsv'))
      .flatMap((path) => eventFaults(files, path)),
    ...paths.filter((path) => path.endsWith('.tsv')).flatMap((path) => cellFaults(files, path)),
  ];
}

/** dataset-description.md: "REQUIRED Name, BIDSVersion"; "a README file ... SHOULD be at the root". */
function datasetFaults(files: Dataset): string[] {
  const description = json(files, 'dataset_description.json');
  const faults = ['Name', 'BIDSVersion']
    .filter((key) => typeof description[key] !== 'string' || description[key] === '')
    .map((key) => `dataset_description.json has no ${key}`);
  if (!/^1\.(9|1\d)\.\d+$/.test(String(description.BIDSVersion)))
    faults.push('motion came with BIDS 1.9');
  if (!files.get('README')) faults.push('no README');
  return faults;
}

/** "sub-<label>[_ses-<label>]_task-<label>_tracksys-<label>[_acq-<label>][_run-<index>]", labels alphanumeric. */
function nameFaults(path: string): string[] {
  const parts = NAME.exec(path);
  if (parts === null) return [`${path} is not named as the standard says`];
  const [, folder, session, subject, nameSession] = parts;
  return folder === subject && session === nameSession ? [] : [`${path} lies in the wrong folder`];
}

function recordingFaults(files: Dataset, path: string): string[] {
  const stem = path.replace(/motion\.tsv$/, '');
  const channelsText = files.get(`${stem}channels.tsv`);
  const motion = json(files, `${stem}motion.json`);
  // "each of which is accompanied by *_motion.json and *_channels.tsv files"
  if (channelsText === undefined || !files.has(`${stem}motion.json`))
    return [`${path} lacks channels.tsv or motion.json`];
  const [header, ...channels] = table(channelsText);
  const faults: string[] = [];
  // "The REQUIRED columns are channel name, component, type, tracked_point and units", in this order
  if (header!.slice(0, 5).join() !== 'name,component,type,tracked_point,units')
    faults.push(`${stem}channels.tsv begins with other columns`);
  faults.push(...channels.flatMap((channel) => channelFaults(stem, channel)));
  faults.push(...frameFaults(files, stem, header!, channels));
  faults.push(...sidecarFaults(path, motion, channels));
  faults.push(...sampleFaults(path, table(files.get(path)!), channels));
  return faults;
}

function channelFaults(stem: string, [name, component, type, , units]: string[]): string[] {
  const where = `${stem}channels.tsv, ${name}`;
  const allowed = UNITS[type!];
  if (allowed === undefined) return [`${where}: type ${type} is not one of the standard's`];
  const faults: string[] = [];
  if (!COMPONENTS.includes(component!)) faults.push(`${where}: component ${component}`);
  if (SPATIAL.includes(type!) && !['x', 'y', 'z'].includes(component!))
    faults.push(`${where}: ${type} needs an axis`);
  if (allowed !== null && !allowed.includes(units!)) faults.push(`${where}: unit ${units}`);
  return faults;
}

/** "The description of the reference_frame column SHOULD use the Levels field"; keywords of RotationRule, SpatialAxes. */
function frameFaults(
  files: Dataset,
  stem: string,
  header: string[],
  channels: string[][],
): string[] {
  const at = header.indexOf('reference_frame');
  if (at < 0) return [`${stem}channels.tsv has no reference_frame`];
  const said = json(files, `${stem}channels.json`).reference_frame as { Levels?: Json } | undefined;
  return [...new Set(channels.map((channel) => channel[at]!))]
    .filter((frame) => frame !== 'n/a')
    .flatMap((frame) => {
      const level = said?.Levels?.[frame] as Record<string, string> | undefined;
      if (level === undefined) return [`${stem}channels.json does not describe ${frame}`];
      const { RotationRule, RotationOrder, SpatialAxes, Description } = level;
      const isSound =
        [undefined, 'left-hand', 'right-hand'].includes(RotationRule) &&
        (RotationOrder === undefined || /^(?!.*(.).*\1)[XYZ]{3}$/.test(RotationOrder)) &&
        (SpatialAxes === undefined || /^[APLRSI_]{3}$/.test(SpatialAxes)) &&
        (SpatialAxes !== undefined || Description !== undefined);
      return isSound ? [] : [`${stem}channels.json: ${frame} is not said as the standard does`];
    });
}

/** schema/rules/sidecars/motion.yaml: TaskName, SamplingFrequency required; counts as in channels.tsv. */
function sidecarFaults(path: string, motion: Json, channels: string[][]): string[] {
  const faults: string[] = [];
  const task = NAME.exec(path)?.[5];
  // "derived from this TaskName field by removing all non-alphanumeric characters" (schema/objects/metadata.yaml)
  if (String(motion.TaskName).replace(/[^0-9a-zA-Z]/g, '') !== task)
    faults.push(`${path}: TaskName and task differ`);
  if (!(Number(motion.SamplingFrequency) > 0)) faults.push(`${path}: no SamplingFrequency`);
  for (const type of Object.keys(UNITS)) {
    const count = channels.filter((channel) => channel[2] === type).length;
    if (motion[`${type}ChannelCount`] !== undefined && motion[`${type}ChannelCount`] !== count)
      faults.push(`${path}: ${type}ChannelCount is not ${count}`);
  }
  if (motion.MotionChannelCount !== channels.length) faults.push(`${path}: MotionChannelCount`);
  return faults;
}

function sampleFaults(path: string, rows: string[][], channels: string[][]): string[] {
  const faults: string[] = [];
  // "The number of columns in _motion.tsv files MUST equal the number of rows in the associated _channels.tsv file"
  if (rows.some((row) => row.length !== channels.length))
    faults.push(`${path}: columns and channels differ in number`);
  // "Motion files MUST NOT have a header row"
  if (rows.some((row) => row.some((cell) => cell !== 'n/a' && !/^-?[0-9]/.test(cell))))
    faults.push(`${path}: a cell that is no number; has it a header?`);
  const at = channels.findIndex((channel) => channel[2] === 'LATENCY');
  if (at < 0) return [...faults, `${path}: uneven samples need a LATENCY channel`];
  const latencies = rows.map((row) => row[at]!);
  // "MUST be in form of s[.000000]"; "latencies to recording onset (first sample)"
  if (latencies.some((latency) => !/^\d+(\.\d{1,6})?$/.test(latency)))
    faults.push(`${path}: LATENCY is not s[.000000]`);
  if (Number(latencies[0]) !== 0) faults.push(`${path}: LATENCY does not begin with 0`);
  if (latencies.some((latency, n) => n > 0 && !(Number(latency) > Number(latencies[n - 1]))))
    faults.push(`${path}: LATENCY does not grow`);
  return faults;
}

/** data-summary-files.md, "Scans file": each recording exactly one row; common-principles.md, "Units": date-time. */
function scanFaults(files: Dataset, motions: string[]): string[] {
  return motions.flatMap((path) => {
    const [folder, name] = path.split('/motion/') as [string, string];
    const scans = files.get(`${folder}/${folder.replaceAll('/', '_')}_scans.tsv`);
    if (scans === undefined) return [`${path}: no scans.tsv`];
    const [header, ...rows] = table(scans);
    const time = header!.indexOf('acq_time');
    const found = rows.filter((row) => row[header!.indexOf('filename')] === `motion/${name}`);
    if (found.length !== 1) return [`${path}: ${found.length} rows in scans.tsv`];
    return /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,6})?Z?$/.test(found[0]![time] ?? '')
      ? []
      : [`${path}: acq_time ${found[0]![time]}`];
  });
}

/** data-summary-files.md, "Participants file": participant_id first, of the form sub-<label>, one row each. */
function participantFaults(files: Dataset, paths: string[]): string[] {
  const [header, ...rows] = table(files.get('participants.tsv') ?? '');
  const ids = rows.map((row) => row[0]!);
  const folders = new Set(paths.filter((path) => path.includes('/')).map((p) => p.split('/')[0]!));
  const faults: string[] = [];
  if (header![0] !== 'participant_id') faults.push('participants.tsv: participant_id is not first');
  if (new Set(ids).size !== ids.length) faults.push('participants.tsv: a participant twice');
  if ([...folders].some((folder) => !ids.includes(folder)))
    faults.push('participants.tsv: a folder without participant');
  return faults;
}

/** events.md: "onset" and "duration" required and first, seconds; "SHOULD be sorted by onset". */
function eventFaults(files: Dataset, path: string): string[] {
  const [header, ...rows] = table(files.get(path)!);
  const onsets = rows.map((row) => Number(row[0]));
  const faults: string[] = [];
  if (header!.slice(0, 2).join() !== 'onset,duration')
    faults.push(`${path}: onset, duration first`);
  if (onsets.some(Number.isNaN)) faults.push(`${path}: an onset is no number`);
  if (onsets.some((onset, n) => n > 0 && onset < onsets[n - 1]!))
    faults.push(`${path}: not sorted`);
  if (!files.has(path.replace('_events.', '_motion.')))
    faults.push(`${path}: no such tracking system`);
  const said = json(files, path.replace(/tsv$/, 'json'));
  // common-principles.md, "Tabular files": additional columns are to be described in a JSON file
  for (const name of header!)
    if (said[name] === undefined) faults.push(`${path}: ${name} not described`);
  return faults;
}

/** common-principles.md, "Tabular files": tabs between cells, `n/a` for missing, never an empty cell; names once. */
function cellFaults(files: Dataset, path: string): string[] {
  const rows = table(files.get(path)!);
  const faults: string[] = [];
  if (rows.some((row) => row.length !== rows[0]!.length)) faults.push(`${path}: ragged`);
  if (rows.some((row) => row.some((cell) => cell.trim() === '')))
    faults.push(`${path}: empty cell`);
  return faults;
}

function json(files: Dataset, path: string): Json {
  return JSON.parse(files.get(path) ?? '{}') as Json;
}
