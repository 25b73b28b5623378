import {
  conjugate,
  multiply,
  normaliseQuaternion,
  type Quaternion,
  quaternion,
} from '../core/maths/quaternion.ts';
import { type Vector3, vector3 } from '../core/maths/vector.ts';
import {
  addSample,
  createReading,
  createTrack,
  readTrack,
  SAMPLE_BEFORE_SHOCK,
  SAMPLE_IN_SHOCK,
  type SensorTrack,
} from '../core/orientation/sensor-track.ts';
import { readNumberColumns } from '../core/recording/csv-numbers.ts';
import type { JointInstant, JointTrial } from './joint-trial.ts';

/** Two rigid segments moved by hand, joined by an exchangeable joint. */
export interface Rig {
  readonly name: string;
  /** In the folder of open data. */
  readonly file: string;
  /** From each sensor to the joint, sensor frames, metres, shape (3). */
  readonly leverAboveM: Vector3;
  readonly leverBelowM: Vector3;
}

/** The open recordings with optical reference on both segments: daniel-om-weber/dfjimu (MIT), levers from its files. */
export const RIGS: readonly Rig[] = [
  {
    name: 'rig, 1-DoF joint',
    file: 'dfjimu-two-segment/data_1D_03.csv.gz',
    leverAboveM: vector3(0.11632, 0.0004, -0.01894),
    leverBelowM: vector3(-0.14745, -0.00117, -0.02118),
  },
  {
    name: 'rig, 2-DoF joint',
    file: 'dfjimu-two-segment/data_2D_02.csv.gz',
    leverAboveM: vector3(0.1176, -0.00152, -0.01525),
    leverBelowM: vector3(-0.14625, -0.00329, -0.01477),
  },
];

/** The headings are unknown at first and need some movement. */
export const RIG_CONVERGES_S = 10;
const RATE_HZ = 50;
/** As the pipeline reads its sensors. */
const GRID_HZ = 200;
const GRID_PER_SAMPLE = GRID_HZ / RATE_HZ;

/**
 * The rig's two sensors through the production filter, read 200 times a second as the pipeline reads its own.
 * @param text the table @throws CsvError when a column is missing
 */
export function rigTrial(rig: Rig, text: string): JointTrial {
  const columns = (prefix: string, axes: string) =>
    readNumberColumns(
      text,
      ',',
      [...axes].map((axis) => prefix + axis),
    );
  const tracks = ['seg1', 'seg2'].map((segment) =>
    trackOf(columns(`${segment}_gyr_`, 'xyz'), columns(`${segment}_acc_`, 'xyz')),
  ) as [SensorTrack, SensorTrack];
  const truth = relativeTurns(columns('seg1_ref_q', 'wxyz'), columns('seg2_ref_q', 'wxyz'));
  return { group: rig.name, arm: null, instants: () => instantsOf(rig, tracks, truth) };
}

function trackOf(
  gyrColumns: readonly Float64Array[],
  accColumns: readonly Float64Array[],
): SensorTrack {
  const track = createTrack('vqf', 1 / RATE_HZ);
  const at = (columns: readonly Float64Array[], row: number) =>
    Float64Array.from(columns, (column) => column[row]!);
  for (let row = 0; row < gyrColumns[0]!.length; row++) {
    addSample(track, row, 1 / RATE_HZ, at(gyrColumns, row), at(accColumns, row), false, false);
  }
  return track;
}

/** What the optical system saw between the two segments, row after row. */
function relativeTurns(
  above: readonly Float64Array[],
  below: readonly Float64Array[],
): Quaternion[] {
  const read = (columns: readonly Float64Array[], row: number) =>
    normaliseQuaternion(Float64Array.from(columns, (column) => column[row]!));
  return Array.from(above[0]!, (_, row) => {
    const qAbove = read(above, row);
    return multiply(qAbove, conjugate(qAbove, qAbove), read(below, row));
  });
}

function* instantsOf(
  { leverAboveM, leverBelowM }: Rig,
  tracks: readonly [SensorTrack, SensorTrack],
  truth: readonly Quaternion[],
): Generator<JointInstant, void, void> {
  const [above, below] = [createReading(), createReading()];
  for (let grid = 2 * GRID_PER_SAMPLE; ; grid++) {
    const tick = grid / GRID_PER_SAMPLE;
    const row = Math.floor(tick);
    if (readTrack(tracks[0], tick, RATE_HZ, row, above) < 0) return;
    if (readTrack(tracks[1], tick, RATE_HZ, row, below) < 0) return;
    const timeS = grid / GRID_HZ;
    yield {
      joint: 0,
      timeS,
      stepS: 1 / GRID_HZ,
      above,
      below,
      leverAboveM,
      leverBelowM,
      isShocked: ((above.flags | below.flags) & (SAMPLE_IN_SHOCK | SAMPLE_BEFORE_SHOCK)) !== 0,
      qTrue: tick === row ? halfway(truth[row - 1]!, truth[row]!) : null,
      counts: timeS > RIG_CONVERGES_S,
    };
  }
}

/** The sensors lag the reference by half a sample (its README: up to one): its turn is that between two rows. */
function halfway(p: Quaternion, q: Quaternion): Quaternion {
  const sign = p[0]! * q[0]! + p[1]! * q[1]! + p[2]! * q[2]! + p[3]! * q[3]! < 0 ? -1 : 1;
  const [w, x, y, z] = Array.from(q, (value, i) => value + sign * p[i]!);
  return normaliseQuaternion(quaternion(w, x, y, z));
}
