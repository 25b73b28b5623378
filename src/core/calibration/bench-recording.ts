/** Three columns of one triad, sensor frame, all of shape (n). */
export interface TriadColumns {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
}

/** Raw samples of one sensor at the bench. */
export interface BenchRecording {
  /** Sample times from the sensor's ticks, s, ascending, shape (n). */
  readonly timeS: Float64Array;
  /** rad/s, uncalibrated. */
  readonly gyro: TriadColumns;
  /** m/s^2, uncalibrated. */
  readonly accel: TriadColumns;
  /** Ends of the measuring range: +- this. */
  readonly gyroRangeRadS: number;
  readonly accelRangeMS2: number;
}

/** The samples from `start` up to, not including, `end`. */
export interface SampleSpan {
  readonly start: number;
  readonly end: number;
}

/** The columns of a triad in the order x, y, z. */
export function columnsOf(
  triad: TriadColumns,
): readonly [Float64Array, Float64Array, Float64Array] {
  return [triad.x, triad.y, triad.z];
}

/** From the first to the last sample of a span, s. */
export function durationS(recording: BenchRecording, span: SampleSpan): number {
  return recording.timeS[span.end - 1]! - recording.timeS[span.start]!;
}

/** Mean of each column over a span, shape (3). */
export function meanOver(triad: TriadColumns, span: SampleSpan): Float64Array {
  return Float64Array.from(columnsOf(triad), (column) => {
    let sum = 0;
    for (let i = span.start; i < span.end; i++) sum += column[i]!;
    return sum / (span.end - span.start);
  });
}

/**
 * Checks what the caller must have right.
 * @throws RangeError for columns of different length, times that do not ascend, values that are no numbers
 */
export function checkRecording(recording: BenchRecording): void {
  const { timeS, gyro, accel } = recording;
  for (const column of [...columnsOf(gyro), ...columnsOf(accel)]) {
    if (column.length !== timeS.length) {
      throw new RangeError(
        `bench recording: a column of ${column.length} values beside ${timeS.length} times; all seven must be equally long`,
      );
    }
    const at = column.findIndex((value) => !Number.isFinite(value));
    if (at >= 0) {
      throw new RangeError(`bench recording: sample ${at} is no number; leave lost samples out`);
    }
  }
  for (let i = 1; i < timeS.length; i++) {
    if (!(timeS[i]! > timeS[i - 1]!)) {
      throw new RangeError(
        `bench recording: time does not ascend at sample ${i}; unwrap the ticks`,
      );
    }
  }
}
