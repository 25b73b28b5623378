import { SEGMENT_WORDS, type Segment } from '../arm/segments.ts';
import { decodeSensorInfo, type SensorInfo } from '../packets/sensor-info.ts';
import type { SetRecord } from '../recording/set-record.ts';
import { TASK_NAME } from './bids-names.ts';
import { type SensorSample, sensorSamples } from './sensor-samples.ts';
import { BATCH_ROWS } from './table.ts';
import { columnsJson, jsonText, type TsvColumn, tsvLine, tsvText } from './tsv.ts';

/** The files of one tracking system in one set: one sensor. */
export interface BidsRecording {
  /** Host time of the first sample, microseconds: the onset that latencies and events count from. */
  readonly firstUs: number;
  /** Pieces that follow each other, no line of names; and the three files that explain them. */
  readonly motionTsv: readonly string[];
  readonly motionJson: string;
  readonly channelsTsv: string;
  readonly channelsJson: string;
}

/** One row of channels.tsv; the columns of motion.tsv in order. */
interface Channel {
  readonly name: string;
  readonly component: 'x' | 'y' | 'z' | 'n/a';
  readonly type: 'LATENCY' | 'GYRO' | 'ACCEL' | 'MISC';
  readonly units: string;
  readonly description: string;
}

const AXES = ['x', 'y', 'z'] as const;

/** All types the standard has; a file says of each how many channels it holds. */
const CHANNEL_TYPES = [
  'ACCEL',
  'ANGACCEL',
  'GYRO',
  'JNTANG',
  'LATENCY',
  'MAGN',
  'MISC',
  'ORNT',
  'POS',
  'VEL',
];

const CHANNELS: readonly Channel[] = [
  {
    name: 'latency',
    component: 'n/a',
    type: 'LATENCY',
    units: 's',
    description: 'Time since the first sample, by the clock of the device that recorded.',
  },
  ...AXES.map(
    (axis): Channel => ({
      name: `gyro_${axis}`,
      component: axis,
      type: 'GYRO',
      units: 'rad/s',
      description: 'Angular rate, no bias removed.',
    }),
  ),
  ...AXES.map(
    (axis): Channel => ({
      name: `accel_${axis}`,
      component: axis,
      type: 'ACCEL',
      units: 'm/s^2',
      description: 'Specific force: at rest it points up.',
    }),
  ),
  {
    name: 'clipped',
    component: 'n/a',
    type: 'MISC',
    units: 'n/a',
    description: '1 where some axis was at the end of its range, else 0.',
  },
];

const isInSensorFrame = ({ type }: Channel): boolean => type === 'GYRO' || type === 'ACCEL';

/** A float32 has nine significant digits at most, and the scales of the samples are float32. */
const DIGITS = 9;

/**
 * One sensor of a set as a Motion-BIDS tracking system: its samples are uneven and at its own rate, so that each
 * sensor is a system of its own with a LATENCY channel.
 * @param records of the whole set
 * @returns null when there is no sample
 * Source: BIDS specification 1.10, "Motion".  Checked: tests/exports/motion-bids.test.ts
 */
export function bidsRecording(
  records: readonly SetRecord[],
  segment: Segment,
): BidsRecording | null {
  const motionTsv: string[] = [];
  let lines: string[] = [];
  let count = 0;
  let firstUs = Number.NaN;
  let lastUs = Number.NaN;
  for (const sample of sensorSamples(records, segment)) {
    if (count === 0) firstUs = sample.timeUs;
    lastUs = sample.timeUs;
    lines.push(sampleLine(sample, firstUs));
    count++;
    if (lines.length < BATCH_ROWS) continue;
    motionTsv.push(lines.join(''));
    lines = [];
  }
  motionTsv.push(lines.join(''));
  const info = firstInfo(records, segment);
  if (count === 0 || info === null) return null;
  return {
    firstUs,
    motionTsv,
    motionJson: jsonText(motionFields(segment, info, count, (lastUs - firstUs) / 1e6)),
    channelsTsv: tsvText(channelColumns(segment), CHANNELS),
    channelsJson: columnsJson(channelColumns(segment)),
  };
}

function sampleLine({ timeUs, gyro, accel, clipped }: SensorSample, firstUs: number): string {
  const values = [...gyro, ...accel].map((value) => Number(value.toPrecision(DIGITS)));
  return tsvLine([((timeUs - firstUs) / 1e6).toFixed(6), ...values, clipped ? 1 : 0]);
}

function firstInfo(records: readonly SetRecord[], segment: Segment): SensorInfo | null {
  for (const record of records) {
    if (record.kind !== 'sensor-info' || record.segment !== segment) continue;
    const decoded = decodeSensorInfo(record.bytes);
    if (decoded.ok) return decoded.info;
  }
  return null;
}

function motionFields(segment: Segment, info: SensorInfo, samples: number, durationS: number) {
  const count = (type: string) => CHANNELS.filter((channel) => channel.type === type).length;
  return {
    TaskName: TASK_NAME,
    TaskDescription: 'The player strikes balls that are fed; which implement and ball: events.tsv.',
    TrackingSystemName: `Inertial sensor on the ${SEGMENT_WORDS[segment]}`,
    SamplingFrequency: info.rateHz,
    // a set of one sample has no duration
    SamplingFrequencyEffective: durationS > 0 ? (samples - 1) / durationS : info.rateHz,
    RecordingDuration: durationS,
    DeviceSerialNumber: info.serial,
    SoftwareVersions: info.firmwareVersion,
    MissingValues: 'n/a',
    TrackedPointsCount: 1,
    MotionChannelCount: CHANNELS.length,
    ...Object.fromEntries(CHANNEL_TYPES.map((type) => [`${type}ChannelCount`, count(type)])),
    SubjectArtefactDescription:
      'Shocks at contact; soft tissue under the sensors on upper arm and forearm.',
  };
}

const REFERENCE_FRAMES = {
  sensor: {
    RotationRule: 'right-hand',
    Description:
      'Axes of the sensor itself, which is strapped to the segment turned by any angle: SpatialAxes and RotationOrder do not apply.',
  },
};

/** The first five columns and their order are the standard's. */
function channelColumns(segment: Segment): readonly TsvColumn<Channel>[] {
  return [
    { name: 'name', Description: 'Name of the channel.', of: ({ name }) => name },
    { name: 'component', Description: 'Axis of the channel.', of: ({ component }) => component },
    { name: 'type', Description: 'Type of the channel.', of: ({ type }) => type },
    {
      name: 'tracked_point',
      Description: 'Segment of the arm the sensor sits on; the implement begins at the wrist.',
      of: (channel) => (isInSensorFrame(channel) ? segment : 'n/a'),
    },
    { name: 'units', Description: 'Unit of the channel.', of: ({ units }) => units },
    {
      name: 'placement',
      Description: 'Where the sensor sits.',
      of: (channel) => (isInSensorFrame(channel) ? SEGMENT_WORDS[segment] : 'n/a'),
    },
    {
      name: 'reference_frame',
      Description: 'Frame of the axes.',
      Levels: REFERENCE_FRAMES,
      of: (channel) => (isInSensorFrame(channel) ? 'sensor' : 'n/a'),
    },
    {
      name: 'description',
      Description: 'What the channel is.',
      of: ({ description }) => description,
    },
  ];
}
