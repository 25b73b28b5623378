import { calibrateSensor } from '../core/calibration/calibrate-sensor.ts';
import { refuse } from '../core/calibration/calibration-fault.ts';
import {
  type BenchSamples,
  benchRecording,
  benchSeconds,
  createBenchSamples,
  takeInfo,
  takeNotification,
} from '../core/kit/bench-samples.ts';
import { calibrationGain } from '../core/kit/calibration-gain.ts';
import { lookAtCalibration } from '../core/kit/calibration-look.ts';
import { periodFromSwings } from '../core/kit/period-from-swings.ts';
import type { SetRecord } from '../core/recording/set-record.ts';
import type { CalibrationOutcome, FromKitDesk } from './kit-contract.ts';
import { thinned } from './thinned-recording.ts';

/** Between two looks, s of what the sensor measured. */
const LOOK_S = 0.5;
/** A look is for the hand, which is slow: so many samples a second are enough, whatever the sensor sends. */
const LOOK_HZ = 50;
/** Swings are timed over so many seconds at the end: an earlier push is forgotten. */
const SWINGS_S = 60;
/** A bench recording that goes on for longer was forgotten, s. */
const LONGEST_S = 900;

/** One sensor at the bench: its samples, looked at as they come. Nothing of it is stored. */
export class SensorBench {
  readonly #post: (message: FromKitDesk) => void;
  readonly #nowMs: () => number;
  #samples: BenchSamples = createBenchSamples();
  #purpose: 'calibration' | 'swings' = 'calibration';
  #lookedS = 0;

  /** @param nowMs milliseconds since 1970 (UTC) */
  constructor(post: (message: FromKitDesk) => void, nowMs: () => number) {
    this.#post = post;
    this.#nowMs = nowMs;
  }

  /** Forgets everything. */
  begin(purpose: 'calibration' | 'swings'): void {
    this.#samples = createBenchSamples();
    this.#purpose = purpose;
    this.#lookedS = 0;
  }

  /** Takes in what arrived, of whichever one sensor is linked, and posts a look when one is due. */
  append(records: readonly SetRecord[]): void {
    for (const record of records) {
      if (record.kind === 'sensor-info') takeInfo(this.#samples, record.bytes);
      else if (record.kind === 'notification' && benchSeconds(this.#samples) < LONGEST_S) {
        takeNotification(this.#samples, record.bytes);
      }
    }
    const seconds = benchSeconds(this.#samples);
    if (seconds < this.#lookedS) this.#lookedS = 0;
    if (seconds - this.#lookedS < LOOK_S) return;
    this.#lookedS = seconds;
    this.#look();
  }

  #look(): void {
    const { info } = this.#samples;
    const recording = benchRecording(
      this.#samples,
      this.#purpose === 'swings' ? SWINGS_S : undefined,
    );
    if (recording === null || info === null) return;
    if (this.#purpose === 'calibration') {
      const look = lookAtCalibration(thinned(recording, LOOK_HZ));
      this.#post({ type: 'bench-look', serial: info.serial, look });
    } else {
      const period = periodFromSwings(recording.timeS, recording.gyro);
      this.#post({ type: 'bench-swings', period });
    }
  }

  /** Posts the calibration of what came so far, or why there is none. */
  calibrate(): void {
    this.#post({ type: 'bench-calibrated', outcome: this.#outcome() });
  }

  #outcome(): CalibrationOutcome {
    const { info } = this.#samples;
    const recording = benchRecording(this.#samples);
    if (recording === null || info === null) {
      return refuse('initial-rest-too-short', 'The sensor has sent nothing yet. Connect it first.');
    }
    const result = calibrateSensor(recording);
    if (!result.ok) return result;
    const { calibration } = result;
    return {
      ok: true,
      row: { serial: info.serial, calibration, calibratedMs: this.#nowMs() },
      gain: calibrationGain(recording, calibration),
    };
  }
}
