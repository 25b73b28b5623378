import type { BenchRecording, TriadColumns } from '../core/calibration/bench-recording.ts';

/**
 * Every so-manieth sample of a recording: enough to see rests and turns by a hand, at a fraction of the work. Samples
 * are left out, not averaged, so that the variance that stillness is judged by stays what it was.
 * @param leastHz the rate that is left at least; a recording as slow as that stays whole
 * Checked: tests/worker/thinned-recording.test.ts
 */
export function thinned(recording: BenchRecording, leastHz: number): BenchRecording {
  const { timeS, gyro, accel } = recording;
  const spanS = timeS.at(-1)! - timeS[0]!;
  const every = Math.max(1, Math.floor((timeS.length - 1) / (spanS * leastHz)));
  if (!Number.isFinite(every) || every === 1) return recording;
  const count = Math.ceil(timeS.length / every);
  const column = (all: Float64Array) => {
    const left = new Float64Array(count);
    for (let i = 0; i < count; i++) left[i] = all[i * every]!;
    return left;
  };
  const triad = ({ x, y, z }: TriadColumns) => ({ x: column(x), y: column(y), z: column(z) });
  return { ...recording, timeS: column(timeS), gyro: triad(gyro), accel: triad(accel) };
}
