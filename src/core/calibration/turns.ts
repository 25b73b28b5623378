import { normalise, type Vector3, vector3 } from '../maths/vector.ts';
import type { BenchRecording } from './bench-recording.ts';
import type { Turn } from './gyroscope-fit.ts';
import type { Rest } from './rests.ts';
import { calibrateSample, type TriadCalibration } from './sensor-calibration.ts';

/** Samples further apart than this have lost the rotation between them. */
const MOST_GAP_S = 0.025;

/**
 * The turns between neighbouring rests, from the middle of one to the middle of the next; those with samples
 * lost are left out.
 * @param rests in order of time @param accelerometer calibrates their forces
 */
export function turnsBetween(
  recording: BenchRecording,
  rests: readonly Rest[],
  accelerometer: TriadCalibration,
): Turn[] {
  const ups = rests.map((rest) => upAtRest(rest, accelerometer));
  return rests.slice(1).flatMap((rest, k) => {
    const from = rests[k]!.middle;
    if (hasGap(recording.timeS, from, rest.middle)) return [];
    return [{ from, to: rest.middle, upFrom: ups[k]!, upTo: ups[k + 1]! }];
  });
}

function upAtRest(rest: Rest, accelerometer: TriadCalibration): Vector3 {
  const up = calibrateSample(vector3(), accelerometer, rest.force);
  return normalise(up, up);
}

function hasGap(timeS: Float64Array, from: number, to: number): boolean {
  for (let i = from; i < to; i++) if (timeS[i + 1]! - timeS[i]! > MOST_GAP_S) return true;
  return false;
}
