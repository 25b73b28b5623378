import { SEGMENT_WORDS, SEGMENTS, type Segment } from '../../core/arm/segments.ts';
import type { AxisColumns } from '../../core/recording/csv-mapping.ts';
import type { ColumnChoice } from '../../core/recording/table-guess.ts';
import type { TableMapping } from '../../core/recording/table-mapping.ts';
import type { TablePreview } from '../../core/recording/table-preview.ts';
import { SelectField } from './SelectField.tsx';

interface Props {
  readonly preview: TablePreview;
  readonly columns: ColumnChoice;
  readonly onDelimiter: (delimiter: TableMapping['delimiter']) => void;
  readonly onChange: (columns: ColumnChoice) => void;
}

type Kind = keyof ColumnChoice['sensors']['upperArm'];

const KINDS: readonly (readonly [Kind, string])[] = [
  ['gyro', 'Gyroscope'],
  ['accel', 'Accelerometer'],
];
const DELIMITERS = [
  { value: ',', label: 'Comma' },
  { value: ';', label: 'Semicolon' },
  { value: '\t', label: 'Tab' },
] as const;
const TIME_UNITS = [
  { value: 's', label: 'seconds' },
  { value: 'ms', label: 'milliseconds' },
  { value: 'us', label: 'microseconds' },
] as const;
const GYRO_UNITS = [
  { value: 'deg/s', label: 'degrees per second' },
  { value: 'rad/s', label: 'radians per second' },
] as const;
const ACCEL_UNITS = [
  { value: 'g', label: 'g' },
  { value: 'm/s^2', label: 'm/s²' },
] as const;

/** Which columns are the time and the three sensors, and in which units. */
export function ColumnFields({ preview, columns, onDelimiter, onChange }: Props) {
  const change = (part: Partial<ColumnChoice>): void => onChange({ ...columns, ...part });
  return (
    <>
      <fieldset class="import-columns">
        <legend>Columns and units</legend>
        <SelectField
          label="Between columns"
          options={DELIMITERS}
          value={preview.delimiter}
          onChange={onDelimiter}
        />
        <SelectField
          label="Time"
          options={timesOf(preview, columns.time)}
          value={columns.time}
          onChange={(time) => change({ time })}
        />
        <SelectField
          label="Unit of the time"
          options={TIME_UNITS}
          value={columns.timeUnit}
          onChange={(timeUnit) => change({ timeUnit })}
        />
        <SelectField
          label="Unit of the gyroscopes"
          options={GYRO_UNITS}
          value={columns.gyroUnit}
          onChange={(gyroUnit) => change({ gyroUnit })}
        />
        <SelectField
          label="Unit of the accelerometers"
          options={ACCEL_UNITS}
          value={columns.accelUnit}
          onChange={(accelUnit) => change({ accelUnit })}
        />
      </fieldset>
      {preview.vectors.length === 0 && (
        <p class="notice" role="alert">
          No three columns differ only in x, y and z, so none can be a sensor's. Rename them in the
          table, for instance to upper_arm_gyr_x, upper_arm_gyr_y, upper_arm_gyr_z.
        </p>
      )}
      {SEGMENTS.map((segment) => (
        <fieldset key={segment} class="import-columns">
          <legend>{segmentTitle(segment)}</legend>
          {KINDS.map(([kind, words]) => (
            <SelectField
              key={kind}
              label={words}
              options={vectorsOf(preview, columns.sensors[segment][kind])}
              value={columns.sensors[segment][kind]}
              isSame={isSameVector}
              onChange={(vector) =>
                change({
                  sensors: {
                    ...columns.sensors,
                    [segment]: { ...columns.sensors[segment], [kind]: vector },
                  },
                })
              }
            />
          ))}
        </fieldset>
      ))}
    </>
  );
}

/** For instance 'Upper arm'. */
export function segmentTitle(segment: Segment): string {
  const words = SEGMENT_WORDS[segment];
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Columns that are no part of a vector; a loaded mapping may name one that the table has not. */
function timesOf({ header, vectors }: TablePreview, chosen: string | null) {
  const taken = new Set(vectors.flatMap(({ columns }) => columns));
  const names = new Set(header.filter((name) => name !== '' && !taken.has(name)));
  if (chosen !== null) names.add(chosen);
  return [...names].map((name) => ({ value: name, label: name }));
}

function vectorsOf({ vectors }: TablePreview, chosen: AxisColumns | null) {
  const options = vectors.map(({ label, columns }) => ({ value: columns, label }));
  if (chosen === null || options.some(({ value }) => isSameVector(value, chosen))) return options;
  return [...options, { value: chosen, label: chosen.join(', ') }];
}

function isSameVector(a: AxisColumns, b: AxisColumns): boolean {
  return a.every((name, axis) => name === b[axis]);
}
