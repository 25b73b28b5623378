import { computed, type ReadonlySignal, signal } from '@preact/signals';
import { type Library, watchLibrary } from '../library-model.ts';
import type { WorkerClient } from '../worker-client.ts';
import { type BallEntry, type BallRow, ballOfEntry, entryOfBall, NEW_BALL } from './ball-entry.ts';
import { type CalibrationRow, watchCalibrations } from './calibrations-model.ts';
import {
  changedEntry,
  entryOfImplement,
  type ImplementEntry,
  type ImplementRow,
  implementOfEntry,
  implementProblem,
  NEW_IMPLEMENT,
} from './implement-entry.ts';

/** What is being entered. A known thing keeps the name that the sets have. */
export type OpenForm =
  | { readonly kind: 'implement'; readonly entry: ImplementEntry; readonly isKnown: boolean }
  | { readonly kind: 'ball'; readonly entry: BallEntry; readonly isKnown: boolean };

/** The kit: implements, balls, and which sensors are calibrated. */
export interface KitModel {
  /** null until the worker has answered. */
  readonly library: ReadonlySignal<Library | null>;
  readonly calibrations: ReadonlySignal<readonly CalibrationRow[] | null>;
  /** null while the lists are shown. */
  readonly form: ReadonlySignal<OpenForm | null>;
  /** What is wrong with the form, in words. */
  readonly problem: ReadonlySignal<string | null>;
  readonly trouble: ReadonlySignal<string | null>;
  enterImplement(known?: ImplementRow): void;
  enterBall(known?: BallRow): void;
  changeImplement(part: Partial<ImplementEntry>): void;
  changeBall(part: Partial<BallEntry>): void;
  /** Keeps what is open; nothing happens while there is a problem. */
  save(): void;
  /** Back to the lists, nothing kept. */
  leave(): void;
  /** Forgets what is open; sets keep what was used in them. */
  forget(): void;
  forgetCalibration(serial: string): void;
  dispose(): void;
}

/** Makes the model of the Kit screen. @param nowMs milliseconds since 1970 (UTC) */
export function createKitModel(client: WorkerClient, nowMs: () => number): KitModel {
  const known = watchLibrary(client);
  const benches = watchCalibrations(client);
  const { library } = known;
  const form = signal<OpenForm | null>(null);
  const problem = computed(() => problemOf(form.value, library.value));
  return {
    library,
    calibrations: benches.calibrations,
    form,
    problem,
    trouble: known.trouble,
    enterImplement: (row) => {
      const entry = row === undefined ? NEW_IMPLEMENT : entryOfImplement(row);
      form.value = { kind: 'implement', entry, isKnown: row !== undefined };
    },
    enterBall: (row) => {
      const entry = row === undefined ? NEW_BALL : entryOfBall(row);
      form.value = { kind: 'ball', entry, isKnown: row !== undefined };
    },
    changeImplement: (part) => {
      const open = form.value;
      if (open?.kind !== 'implement') return;
      form.value = { ...open, entry: changedEntry(open.entry, part) };
    },
    changeBall: (part) => {
      const open = form.value;
      if (open?.kind === 'ball') form.value = { ...open, entry: { ...open.entry, ...part } };
    },
    save: () => {
      const open = form.value;
      if (open === null || problem.value !== null) return;
      if (open.kind === 'ball') {
        client.post({ type: 'keep-ball', ball: ballOfEntry(open.entry, nowMs()) });
      } else {
        const implement = implementOfEntry(open.entry, nowMs());
        client.post({ type: 'keep-implement', implement });
      }
      form.value = null;
    },
    leave: () => {
      form.value = null;
    },
    forget: () => {
      const open = form.value;
      if (open?.kind === 'ball') client.post({ type: 'forget-ball', ball: open.entry.ball });
      if (open?.kind === 'implement') {
        client.post({ type: 'forget-implement', implement: open.entry.implement });
      }
      form.value = null;
    },
    forgetCalibration: (serial) => client.post({ type: 'forget-calibration', serial }),
    dispose: () => {
      known.dispose();
      benches.dispose();
    },
  };
}

function problemOf(form: OpenForm | null, library: Library | null): string | null {
  if (form === null) return null;
  if (!form.isKnown) {
    const isImplement = form.kind === 'implement';
    const name = (isImplement ? form.entry.implement : form.entry.ball).trim();
    const isTaken = isImplement
      ? library?.implements.some(({ implement }) => implement === name)
      : library?.balls.some(({ ball }) => ball === name);
    if (isTaken) return `There is ${name} already: edit it, or choose another name.`;
  }
  return form.kind === 'implement' ? implementProblem(form.entry) : null;
}
