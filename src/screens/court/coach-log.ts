import { computed, type ReadonlySignal, signal } from '@preact/signals';
import type { ScoredSwing } from '../../core/pipeline/outputs.ts';
import type { SetEvent } from '../../core/recording/set-record.ts';

/** What the coach said about swings in this set, newest word first to count. */
export interface CoachLog {
  readonly canUndo: ReadonlySignal<boolean>;
  /** Swings as the pipeline reports them, with what the coach has said since. */
  applyTo(swings: readonly ScoredSwing[]): readonly ScoredSwing[];
  score(target: ScoredSwing, points: number): void;
  discard(target: ScoredSwing): void;
  /** Takes the last action back. */
  undo(): void;
}

type Verdict = Pick<ScoredSwing, 'points' | 'discarded'>;

interface Action {
  readonly contactTimeUs: number;
  readonly before: Verdict;
  readonly takeBack: SetEvent;
}

/**
 * Keeps the coach's words and sends them on as events.
 * Shown at once, without waiting for the worker: a second tap must build on the first.
 */
export function createCoachLog(send: (event: SetEvent) => void): CoachLog {
  const said = signal<ReadonlyMap<number, Verdict>>(new Map());
  const actions = signal<readonly Action[]>([]);

  const say = (contactTimeUs: number, verdict: Verdict): void => {
    said.value = new Map(said.value).set(contactTimeUs, verdict);
  };
  const act = (target: ScoredSwing, after: Verdict, event: SetEvent, takeBack: SetEvent): void => {
    const { contactTimeUs } = target.swing;
    const before = { points: target.points, discarded: target.discarded };
    actions.value = [...actions.value, { contactTimeUs, before, takeBack }];
    say(contactTimeUs, after);
    send(event);
  };

  return {
    canUndo: computed(() => actions.value.length > 0),
    applyTo: (swings) =>
      swings.map((swing) => ({ ...swing, ...said.value.get(swing.swing.contactTimeUs) })),
    score: (target, points) => {
      const { contactTimeUs } = target.swing;
      const takeBack: SetEvent =
        target.points === null
          ? { type: 'score-withdrawn', contactTimeUs }
          : { type: 'score', contactTimeUs, points: target.points };
      const after = { points, discarded: target.discarded };
      act(target, after, { type: 'score', contactTimeUs, points }, takeBack);
    },
    discard: (target) => {
      const { contactTimeUs } = target.swing;
      const after = { points: target.points, discarded: true };
      act(
        target,
        after,
        { type: 'discarded', contactTimeUs },
        { type: 'discard-withdrawn', contactTimeUs },
      );
    },
    undo: () => {
      const last = actions.value.at(-1);
      if (last === undefined) return;
      actions.value = actions.value.slice(0, -1);
      say(last.contactTimeUs, last.before);
      send(last.takeBack);
    },
  };
}

/** The latest swing that met a ball: a practice swing between two balls must not take its place. */
export function lastStruck(swings: readonly ScoredSwing[]): ScoredSwing | undefined {
  return swings.findLast(isStruck);
}

function isStruck({ swing }: ScoredSwing): boolean {
  return swing.voidReason !== 'air-swing';
}

/**
 * The swing that the score pad means: the latest that met a ball and was not discarded. The ball went somewhere
 * even when the reach is void, so void swings are scored too.
 * @returns null when there is none
 */
export function scoreTarget(swings: readonly ScoredSwing[]): ScoredSwing | null {
  return swings.findLast((scored) => isStruck(scored) && !scored.discarded) ?? null;
}

/** The swing that "discard" means: the latest that met a ball, unless already discarded. */
export function discardTarget(swings: readonly ScoredSwing[]): ScoredSwing | null {
  const latest = lastStruck(swings);
  return latest === undefined || latest.discarded ? null : latest;
}
