import { computed, type ReadonlySignal, signal } from '@preact/signals';
import type { FromWorker } from '../../worker/contract.ts';
import type { WorkerClient } from '../worker-client.ts';
import type { BenchLink, BenchSource } from './bench-link.ts';

/** How far the recording has got. */
export type BenchLook = Extract<FromWorker, { type: 'bench-look' }>['look'];
/** What came of it. */
export type CalibrationOutcome = Extract<FromWorker, { type: 'bench-calibrated' }>['outcome'];

/** The bench calibration of one sensor, step by step. */
export interface CalibrateModel {
  readonly link: BenchLink;
  /** null until the sensor has sent something. */
  readonly look: ReadonlySignal<BenchLook | null>;
  /** Serial of the sensor that sends. */
  readonly serial: ReadonlySignal<string | null>;
  /** Enough positions to try. */
  readonly canSolve: ReadonlySignal<boolean>;
  /** The worker is computing. */
  readonly isSolving: ReadonlySignal<boolean>;
  readonly outcome: ReadonlySignal<CalibrationOutcome | null>;
  /** A simulated sensor is nobody's: its calibration shows how it goes and is never kept. */
  readonly isTrial: ReadonlySignal<boolean>;
  /** The calibration is in storage. */
  readonly isKept: ReadonlySignal<boolean>;
  readonly trouble: ReadonlySignal<string | null>;
  connect(source: BenchSource): void;
  solve(): void;
  keep(): void;
  /** Drops the result and goes on adding positions. */
  goOn(): void;
  /** Drops everything and begins with the first rest. */
  beginAgain(): void;
  dispose(): void;
}

/** Makes the model of the calibration screen. */
export function createCalibrateModel(client: WorkerClient, link: BenchLink): CalibrateModel {
  const look = signal<BenchLook | null>(null);
  const serial = signal<string | null>(null);
  const isSolving = signal(false);
  const outcome = signal<CalibrationOutcome | null>(null);
  const isTrial = computed(() => link.source.value === 'simulated');
  const isKept = signal(false);
  const trouble = signal<string | null>(null);
  const canSolve = computed(() => {
    const at = look.value;
    return at?.step === 'positions' && at.positions >= at.needed && !isSolving.value;
  });
  const reset = (): void => {
    look.value = null;
    outcome.value = null;
    isSolving.value = false;
    isKept.value = false;
    trouble.value = null;
  };
  const subscription = client.messages$.subscribe((message) => {
    if (message.type === 'bench-look') {
      look.value = message.look;
      serial.value = message.serial;
    } else if (message.type === 'bench-calibrated') {
      isSolving.value = false;
      outcome.value = message.outcome;
    } else if (message.type === 'calibrations') {
      const made = outcome.value;
      isKept.value = made?.ok === true && message.calibrations.some(isSame(made.row));
    } else if (message.type === 'trouble') {
      isSolving.value = false;
      trouble.value = message.trouble.message;
    }
  });
  return {
    link,
    look,
    serial,
    canSolve,
    isSolving,
    outcome,
    isTrial,
    isKept,
    trouble,
    connect: (source) => {
      reset();
      link.connect(source);
    },
    solve: () => {
      if (!canSolve.value) return;
      isSolving.value = true;
      client.post({ type: 'bench-calibrate' });
    },
    keep: () => {
      const made = outcome.value;
      if (made?.ok && !isTrial.value)
        client.post({ type: 'keep-calibration', calibration: made.row });
    },
    goOn: () => {
      outcome.value = null;
    },
    beginAgain: () => {
      reset();
      link.restart();
    },
    dispose: () => {
      subscription.unsubscribe();
      link.close();
    },
  };
}

interface Calibrated {
  readonly serial: string;
  readonly calibratedMs: number;
}

function isSame(made: Calibrated): (row: Calibrated) => boolean {
  return (row) => row.serial === made.serial && row.calibratedMs === made.calibratedMs;
}
