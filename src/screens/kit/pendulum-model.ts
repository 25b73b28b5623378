import { type ReadonlySignal, signal } from '@preact/signals';
import {
  type NoInertia,
  type PendulumInertia,
  pendulumInertia,
  type Reading,
} from '../../core/kit/pendulum-inertia.ts';
import { periodFromTaps, type SwingPeriod } from '../../core/kit/swing-period.ts';
import type { FromWorker } from '../../worker/contract.ts';
import { centimetres, metresOf } from '../controls/centimetres.ts';
import type { WorkerClient } from '../worker-client.ts';
import type { BenchLink } from './bench-link.ts';
import { type ImplementEntry, kilogramsOf, type MeasuredInertia } from './implement-entry.ts';
import { COMMON_AXIS_M, LENGTH_SE_M, MASS_SE_KG } from './pendulum-readings.ts';

/** The worker's last word on the swings a sensor felt. */
export type FeltSwings = Extract<FromWorker, { type: 'bench-swings' }>['period'];

/** How the implement hangs and is timed; centimetres. */
export interface PendulumEntry {
  /** From the butt end. */
  readonly pivotCm: number;
  readonly axisCm: number;
  readonly timedBy: 'taps' | 'sensor';
  /** Whole swings to count. */
  readonly swings: number;
  /** How far its far end swings to each side, told by eye. */
  readonly sideCm: number;
}

/** Moment of inertia by swinging: one implement, step by step. */
export interface PendulumModel {
  readonly entry: ReadonlySignal<PendulumEntry>;
  /** When the first tap came, ms; null while nothing is being timed. */
  readonly startedMs: ReadonlySignal<number | null>;
  /** What the sensor felt so far; null before it sends. */
  readonly felt: ReadonlySignal<FeltSwings | null>;
  readonly link: BenchLink;
  change(part: Partial<PendulumEntry>): void;
  /** First tap starts, second stops. @param atMs time of the tap, ms, any zero */
  tap(atMs: number): void;
  /** Small-swing period of this implement; null until it was timed, a reason when the taps cannot be right. */
  periodOf(implement: ImplementEntry): SwingPeriod | { readonly reason: string } | null;
  /** The inertia of this implement by what was timed; null until then. */
  inertiaOf(implement: ImplementEntry): PendulumInertia | NoInertia | null;
  dispose(): void;
}

/** A pair of cords near the butt. */
const USUAL: PendulumEntry = {
  pivotCm: 2,
  axisCm: centimetres(COMMON_AXIS_M),
  timedBy: 'taps',
  swings: 20,
  sideCm: 8,
};

/** Makes the model. @param link of the sensor on the implement, if the coach wants one */
export function createPendulumModel(client: WorkerClient, link: BenchLink): PendulumModel {
  const entry = signal(USUAL);
  const startedMs = signal<number | null>(null);
  const timedMs = signal<{ readonly ms: number; readonly swings: number } | null>(null);
  const felt = signal<FeltSwings | null>(null);
  const periodOf: PendulumModel['periodOf'] = ({ totalLengthCm }) => {
    const { timedBy, sideCm, pivotCm } = entry.value;
    if (timedBy === 'sensor') return felt.value?.ok ? felt.value : null;
    if (timedMs.value === null) return null;
    const { ms, swings } = timedMs.value;
    return periodFromTaps(ms / 1000, swings, sideCm / (totalLengthCm - pivotCm));
  };
  const subscription = client.messages$.subscribe((message) => {
    if (message.type === 'bench-swings') felt.value = message.period;
  });
  return {
    entry,
    startedMs,
    periodOf,
    felt,
    link,
    change: (part) => {
      entry.value = { ...entry.value, ...part };
    },
    tap: (atMs) => {
      if (startedMs.value === null) {
        startedMs.value = atMs;
        timedMs.value = null;
        return;
      }
      timedMs.value = { ms: atMs - startedMs.value, swings: entry.value.swings };
      startedMs.value = null;
    },
    inertiaOf: (implement) => {
      const timed = periodOf(implement);
      if (timed === null) return null;
      if ('reason' in timed) return { ok: false, reason: timed.reason };
      const { pivotCm, axisCm } = entry.value;
      return pendulumInertia({
        massKg: reading(kilogramsOf(implement.massG), MASS_SE_KG),
        balancePointM: reading(metresOf(implement.balancePointCm), LENGTH_SE_M),
        pivotM: reading(metresOf(pivotCm), LENGTH_SE_M),
        totalLengthM: metresOf(implement.totalLengthCm),
        axisM: metresOf(axisCm),
        period: timed,
      });
    },
    dispose: () => {
      subscription.unsubscribe();
      link.close();
    },
  };
}

function reading(value: number, standardError: number): Reading {
  return { value, standardError };
}

/** What an implement keeps of its moment of inertia. @param measuredMs milliseconds since 1970 (UTC) */
export function measuredInertia(
  { inertiaKgM2, standardError }: PendulumInertia,
  axisCm: number,
  measuredMs: number,
): MeasuredInertia {
  return { inertiaKgM2, standardError, axisM: metresOf(axisCm), measuredMs };
}

const WHAT: Readonly<Record<keyof PendulumInertia['shares'], string>> = {
  mass: 'the scale',
  balance: 'the balance point',
  pivot: 'the place it hung from',
  period: 'the timing',
  gravity: 'local gravity, which nobody measures here',
};

/** What to measure better, in words. */
export function weakestWords({ shares }: PendulumInertia): string {
  const [weakest] = Object.entries(shares).sort(([, a], [, b]) => b - a);
  return `Most of the uncertainty comes from ${WHAT[weakest![0] as keyof typeof WHAT]}.`;
}
