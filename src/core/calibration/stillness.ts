import {
  type BenchRecording,
  columnsOf,
  type SampleSpan,
  type TriadColumns,
} from './bench-recording.ts';

/** Length of the window whose variance says whether the sensor rests around its middle, s. */
const STILL_WINDOW_S = 0.5;

/**
 * Variance magnitude of a triad around every sample:
 *   |(var x, var y, var z)| over a window of STILL_WINDOW_S about it.
 * @param timeS shape (n), s
 * @returns shape (n), unit of the triad squared; infinite where the window does not fit into the recording
 * Source: Tedaldi, Pretto & Menegatti 2014, doi 10.1109/ICRA.2014.6907297, static detector (windows of 2 s
 * there; shorter here, because rests may be as short as 2 s).
 */
export function varianceMagnitude(triad: TriadColumns, timeS: Float64Array): Float64Array {
  const out = new Float64Array(timeS.length);
  for (const column of columnsOf(triad)) addVarianceSquared(out, column, timeS);
  return out.map(Math.sqrt);
}

function addVarianceSquared(out: Float64Array, column: Float64Array, timeS: Float64Array): void {
  const n = timeS.length;
  const origin = column[0]!;
  let sum = 0;
  let sumSquares = 0;
  let start = 0;
  let end = 0;
  for (let i = 0; i < n; i++) {
    const from = timeS[i]! - STILL_WINDOW_S / 2;
    const to = timeS[i]! + STILL_WINDOW_S / 2;
    for (; end < n && timeS[end]! <= to; end++) {
      sum += column[end]! - origin;
      sumSquares += (column[end]! - origin) ** 2;
    }
    for (; timeS[start]! < from; start++) {
      sum -= column[start]! - origin;
      sumSquares -= (column[start]! - origin) ** 2;
    }
    const count = end - start;
    const fits = from >= timeS[0]! && to <= timeS[n - 1]! && count > 2;
    // rounding of the running sums may leave a constant signal just below 0
    const variance = Math.max(0, sumSquares / count - (sum / count) ** 2);
    out[i] = fits ? out[i]! + variance ** 2 : Number.POSITIVE_INFINITY;
  }
}

/**
 * Runs of samples whose variance magnitude stays below a threshold, with no sample missing for longer than
 * half a window.
 * @param variance from {@link varianceMagnitude} @param threshold same unit
 */
export function stillSpans(
  recording: BenchRecording,
  variance: Float64Array,
  threshold: number,
): SampleSpan[] {
  const { timeS } = recording;
  const spans: SampleSpan[] = [];
  let start = -1;
  for (let i = 0; i <= variance.length; i++) {
    const still = i < variance.length && variance[i]! < threshold;
    const gap = i > 0 && i < timeS.length && timeS[i]! - timeS[i - 1]! > STILL_WINDOW_S / 2;
    if (start >= 0 && (!still || gap)) {
      spans.push({ start, end: i });
      start = -1;
    }
    if (still && start < 0) start = i;
  }
  return spans;
}
