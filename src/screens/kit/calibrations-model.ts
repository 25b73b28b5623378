import { type ReadonlySignal, signal } from '@preact/signals';
import type { FromWorker } from '../../worker/contract.ts';
import type { WorkerClient } from '../worker-client.ts';

/** One sensor's bench calibration as it is kept. */
export type CalibrationRow = Extract<FromWorker, { type: 'calibrations' }>['calibrations'][number];

/** Bench calibrations, kept fresh. */
export interface CalibrationsModel {
  /** Latest first; null until the worker has answered, and where storage is forbidden. */
  readonly calibrations: ReadonlySignal<readonly CalibrationRow[] | null>;
  dispose(): void;
}

/** Asks the worker for the calibrations and follows their changes. */
export function watchCalibrations(client: WorkerClient): CalibrationsModel {
  const calibrations = signal<readonly CalibrationRow[] | null>(null);
  const subscription = client.messages$.subscribe((message) => {
    if (message.type === 'calibrations') calibrations.value = message.calibrations;
  });
  client.post({ type: 'list-calibrations' });
  return { calibrations, dispose: () => subscription.unsubscribe() };
}
