import type { CalibrationFault } from '../core/calibration/calibration-fault.ts';
import type { CalibrationGain } from '../core/kit/calibration-gain.ts';
import type { CalibrationLook } from '../core/kit/calibration-look.ts';
import type { FeltPeriod, NoPeriod } from '../core/kit/period-from-swings.ts';
import type { SetRecord } from '../core/recording/set-record.ts';
import type { KitChange } from '../storage/kit.ts';
import type { CalibrationRow } from '../storage/kit-rows.ts';

/** What the Kit screens ask: kit in storage, and one sensor at the bench. Never waits for a set. */
export type ToKitDesk =
  /** Answered with `library`, or `calibrations` when it is about one. */
  | KitChange
  /** `calibrations`. */
  | { readonly type: 'list-calibrations' }
  /** A sensor is about to send, for its calibration or on a swinging implement. What came before is forgotten. */
  | { readonly type: 'bench-begin'; readonly purpose: 'calibration' | 'swings' }
  /** `bench-look` or `bench-swings` twice a second of what it sends. */
  | { readonly type: 'bench-append'; readonly records: readonly SetRecord[] }
  /** The calibration of what was sent so far: `bench-calibrated`. */
  | { readonly type: 'bench-calibrate' }
  | { readonly type: 'bench-over' };

/** What the Kit screens are told. */
export type FromKitDesk =
  | { readonly type: 'calibrations'; readonly calibrations: readonly CalibrationRow[] }
  | { readonly type: 'bench-look'; readonly serial: string; readonly look: CalibrationLook }
  | { readonly type: 'bench-swings'; readonly period: FeltPeriod | NoPeriod }
  | { readonly type: 'bench-calibrated'; readonly outcome: CalibrationOutcome };

/** A calibration that can be kept, or why there is none. */
export type CalibrationOutcome =
  | {
      readonly ok: true;
      readonly row: CalibrationRow;
      readonly gain: CalibrationGain | null;
    }
  | { readonly ok: false; readonly fault: CalibrationFault };
