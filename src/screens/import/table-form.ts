import type { ColumnChoice } from '../../core/recording/table-guess.ts';
import type { TableMapping } from '../../core/recording/table-mapping.ts';
import type { TablePreview } from '../../core/recording/table-preview.ts';
import { centimetres, metresOf } from '../controls/centimetres.ts';
import { USUAL_STEPS } from '../plan/plan-entry.ts';
import { EMPTY_ENTRY, type PlayEntry } from './play-entry.ts';

/** Everything that is said about a table before it is brought in, as chosen and typed. */
export interface TableForm {
  readonly columns: ColumnChoice;
  readonly entry: PlayEntry;
  /** Times when the two poses begin, as in the time column, with spaces between. */
  readonly posesAt: string;
  /** Local date and time as the browser's field gives it; empty: the file's date. */
  readonly recordedAt: string;
  /** Of a loaded mapping; null: nobody knows it. */
  readonly sweetSpotBand: TableMapping['sweetSpotBand'];
  /** Of a loaded mapping; null: those of every set. */
  readonly scoreSteps: readonly number[] | null;
}

const NO_COLUMNS = { gyro: null, accel: null };

/** Nothing said yet. */
export const EMPTY_FORM: TableForm = {
  columns: {
    time: null,
    timeUnit: null,
    gyroUnit: null,
    accelUnit: null,
    sensors: { upperArm: NO_COLUMNS, forearm: NO_COLUMNS, implement: NO_COLUMNS },
  },
  entry: EMPTY_ENTRY,
  posesAt: '',
  recordedAt: '',
  sweetSpotBand: null,
  scoreSteps: null,
};

/** The form with what is proposed for a table; the poses are looked for from its beginning. */
export function withProposal(
  form: TableForm,
  { proposals, header, rows }: TablePreview,
): TableForm {
  const columns = proposals[form.entry.handedness].choice;
  const place = columns.time === null ? -1 : header.indexOf(columns.time);
  return { ...form, columns, posesAt: rows[0]?.[place]?.trim() ?? '' };
}

/** The form filled from a saved mapping. */
export function withMapping(form: TableForm, mapping: TableMapping): TableForm {
  const { time, timeUnit, gyroUnit, accelUnit, sensors } = mapping;
  const { lengthsM, sensorFromJointM, sweetSpotBand, scoreSteps } = mapping;
  const { player, handedness, implement, ball } = mapping;
  return {
    ...form,
    columns: { time, timeUnit, gyroUnit, accelUnit, sensors },
    entry: {
      ...form.entry,
      player,
      handedness,
      implement,
      ball,
      upperArmCm: centimetres(lengthsM.upperArm),
      forearmCm: centimetres(lengthsM.forearm),
      wristToSweetSpotCm: centimetres(lengthsM.implement),
      upperArmSensorCm: centimetres(sensorFromJointM.upperArm),
      forearmSensorCm: centimetres(sensorFromJointM.forearm),
      implementSensorCm: centimetres(sensorFromJointM.implement),
    },
    posesAt: mapping.zeroRequestedAt.join(' '),
    sweetSpotBand,
    scoreSteps,
  };
}

/** The form as a mapping; null while a column or unit is not chosen. */
export function mappingOf(
  form: TableForm,
  delimiter: TableMapping['delimiter'],
): TableMapping | null {
  const { time, timeUnit, gyroUnit, accelUnit } = form.columns;
  const sensors = chosenSensors(form.columns.sensors);
  if (time === null || timeUnit === null || gyroUnit === null || accelUnit === null) return null;
  if (sensors === null) return null;
  const { entry } = form;
  return {
    delimiter,
    time,
    timeUnit,
    gyroUnit,
    accelUnit,
    sensors,
    zeroRequestedAt: form.posesAt
      .split(/\s+/)
      .filter((time) => time !== '')
      .map(Number),
    player: entry.player.trim(),
    handedness: entry.handedness,
    lengthsM: {
      upperArm: metresOf(entry.upperArmCm),
      forearm: metresOf(entry.forearmCm),
      implement: metresOf(entry.wristToSweetSpotCm),
    },
    sensorFromJointM: {
      upperArm: metresOf(entry.upperArmSensorCm),
      forearm: metresOf(entry.forearmSensorCm),
      implement: metresOf(entry.implementSensorCm),
    },
    implement: entry.implement.trim(),
    ball: entry.ball.trim(),
    sweetSpotBand: form.sweetSpotBand,
    scoreSteps: form.scoreSteps ?? USUAL_STEPS,
  };
}

function chosenSensors(sensors: ColumnChoice['sensors']): TableMapping['sensors'] | null {
  const chosen = [sensors.upperArm, sensors.forearm, sensors.implement].flatMap(
    ({ gyro, accel }) => (gyro === null || accel === null ? [] : [{ gyro, accel }]),
  );
  const [upperArm, forearm, implement] = chosen;
  if (upperArm === undefined || forearm === undefined || implement === undefined) return null;
  return { upperArm, forearm, implement };
}
