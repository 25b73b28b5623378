import type { ColumnChoice } from '../../core/recording/table-guess.ts';
import type { TableMapping } from '../../core/recording/table-mapping.ts';
import type { TablePreview } from '../../core/recording/table-preview.ts';
import { describeSensorSet, FIRST_ENTRY, type SensorSetEntry } from '../start/sensor-set.ts';

/** Everything that is said about a table before it is brought in, as chosen and typed. */
export interface TableForm {
  readonly columns: ColumnChoice;
  readonly entry: SensorSetEntry;
  /** Times when the two poses begin, as in the time column, with spaces between. */
  readonly posesAt: string;
  /** Local date and time as the browser's field gives it; empty: the file's date. */
  readonly recordedAt: string;
  /** Of a loaded mapping; null: those of every set. */
  readonly scoreSteps: readonly number[] | null;
}

const NO_COLUMNS = { gyro: null, accel: null };

/** Nothing said yet: unlike at a new set there is no pattern to overwrite, since the arm has been measured. */
export const EMPTY_FORM: TableForm = {
  columns: {
    time: null,
    timeUnit: null,
    gyroUnit: null,
    accelUnit: null,
    sensors: { upperArm: NO_COLUMNS, forearm: NO_COLUMNS, implement: NO_COLUMNS },
  },
  entry: {
    ...FIRST_ENTRY,
    player: '',
    implement: '',
    ball: '',
    upperArmCm: Number.NaN,
    forearmCm: Number.NaN,
    wristToSweetSpotCm: Number.NaN,
    upperArmSensorCm: Number.NaN,
    forearmSensorCm: Number.NaN,
    implementSensorCm: Number.NaN,
  },
  posesAt: '',
  recordedAt: '',
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
      upperArmCm: cm(lengthsM.upperArm),
      forearmCm: cm(lengthsM.forearm),
      wristToSweetSpotCm: cm(lengthsM.implement),
      upperArmSensorCm: cm(sensorFromJointM.upperArm),
      forearmSensorCm: cm(sensorFromJointM.forearm),
      implementSensorCm: cm(sensorFromJointM.implement),
      hopedReachCm: sweetSpotBand === null ? Number.NaN : cm(sweetSpotBand.reachM),
      ...(sweetSpotBand === null ? {} : { halfWidthCm: cm(sweetSpotBand.halfWidthM) }),
    },
    posesAt: mapping.zeroRequestedAt.join(' '),
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
  const { player, handedness, lengthsM, sensorFromJointM, implement, ball, ...rest } =
    describeSensorSet(
      { ...form.entry, armBy: 'tape' },
      { setId: '', startedAtMs: 0, programVersion: '' },
    );
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
    player,
    handedness,
    lengthsM,
    sensorFromJointM,
    implement,
    ball,
    sweetSpotBand: rest.sweetSpotBand,
    scoreSteps: form.scoreSteps ?? rest.scoreSteps,
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

/** To the millimetre, as a tape measure reads and the fields take it. */
function cm(metres: number): number {
  return Math.round(1000 * metres) / 10;
}
