import { computed, type ReadonlySignal, signal } from '@preact/signals';
import type { ScoredSwing } from '../../core/pipeline/outputs.ts';
import type { Landing } from '../../core/plan/target-points.ts';
import type { SetEvent } from '../../core/recording/set-record.ts';

/** What the coach said in this set, newest word first to count. */
export interface CoachLog {
  /** What undo would take back, for instance 'score of swing 4'; null: nothing. */
  readonly undoes: ReadonlySignal<string | null>;
  /** Swings as the pipeline reports them, with what the coach has said since. */
  applyTo(swings: readonly ScoredSwing[]): readonly ScoredSwing[];
  score(target: ScoredSwing, points: number): void;
  /** Where the ball landed, and what that is worth. */
  land(target: ScoredSwing, landing: Landing, points: number): void;
  discard(target: ScoredSwing): void;
  note(text: string): void;
  /** Takes the last action back. */
  undo(): void;
}

type Verdict = Pick<ScoredSwing, 'points' | 'discarded' | 'landingM'>;

interface Action {
  readonly words: string;
  /** null when it says nothing about a swing. */
  readonly before: { readonly contactTimeUs: number; readonly verdict: Verdict } | null;
  readonly takeBack: readonly SetEvent[];
}

/**
 * Keeps the coach's words and sends them on as events.
 * Shown at once, without waiting for the worker: a second tap must build on the first.
 * @param send records an event and tells its host time, microseconds
 */
export function createCoachLog(send: (event: SetEvent) => number): CoachLog {
  const said = signal<ReadonlyMap<number, Verdict>>(new Map());
  const actions = signal<readonly Action[]>([]);

  const say = (contactTimeUs: number, verdict: Verdict): void => {
    said.value = new Map(said.value).set(contactTimeUs, verdict);
  };
  const act = (
    what: string,
    target: ScoredSwing,
    change: Partial<Verdict>,
    events: readonly SetEvent[],
    takeBack: readonly SetEvent[],
  ): void => {
    const { contactTimeUs, index } = target.swing;
    const { points, discarded, landingM } = target;
    const verdict = { points, discarded, landingM };
    const words = `${what} of swing ${index + 1}`;
    actions.value = [...actions.value, { words, before: { contactTimeUs, verdict }, takeBack }];
    say(contactTimeUs, { ...verdict, ...change });
    for (const event of events) send(event);
  };

  return {
    undoes: computed(() => actions.value.at(-1)?.words ?? null),
    applyTo: (swings) =>
      swings.map((swing) => ({ ...swing, ...said.value.get(swing.swing.contactTimeUs) })),
    score: (target, points) => {
      const { contactTimeUs } = target.swing;
      // points given by eye no longer belong to where the ball was said to have landed
      const forgets: SetEvent[] =
        target.landingM === null ? [] : [{ type: 'landing-withdrawn', contactTimeUs }];
      act(
        'score',
        target,
        { points, landingM: null },
        [{ type: 'score', contactTimeUs, points }, ...forgets],
        [scoreAgain(target), ...(target.landingM === null ? [] : [landAgain(target)])],
      );
    },
    land: (target, { beyondM, leftM }, points) => {
      const { contactTimeUs } = target.swing;
      act(
        'landing',
        target,
        { points, landingM: [beyondM, leftM] },
        [
          { type: 'landed', contactTimeUs, beyondM, leftM },
          { type: 'score', contactTimeUs, points },
        ],
        [landAgain(target), scoreAgain(target)],
      );
    },
    discard: (target) => {
      const { contactTimeUs } = target.swing;
      act(
        'discard',
        target,
        { discarded: true },
        [{ type: 'discarded', contactTimeUs }],
        [{ type: 'discard-withdrawn', contactTimeUs }],
      );
    },
    note: (text) => {
      const noteTimeUs = send({ type: 'note', text });
      const takeBack: readonly SetEvent[] = [{ type: 'note-withdrawn', noteTimeUs }];
      actions.value = [...actions.value, { words: 'note', before: null, takeBack }];
    },
    undo: () => {
      const last = actions.value.at(-1);
      if (last === undefined) return;
      actions.value = actions.value.slice(0, -1);
      if (last.before !== null) say(last.before.contactTimeUs, last.before.verdict);
      for (const event of last.takeBack) send(event);
    },
  };
}

/** What brings a swing's score back to what it is now. */
function scoreAgain({ swing: { contactTimeUs }, points }: ScoredSwing): SetEvent {
  return points === null
    ? { type: 'score-withdrawn', contactTimeUs }
    : { type: 'score', contactTimeUs, points };
}

/** The same for where its ball landed. */
function landAgain({ swing: { contactTimeUs }, landingM }: ScoredSwing): SetEvent {
  if (landingM === null) return { type: 'landing-withdrawn', contactTimeUs };
  const [beyondM, leftM] = landingM;
  return { type: 'landed', contactTimeUs, beyondM, leftM };
}

/** The latest swing that met a ball: a practice swing between two balls must not take its place. */
export function lastStruck(swings: readonly ScoredSwing[]): ScoredSwing | undefined {
  return swings.findLast(isStruck);
}

/** A ball was met. */
export function isStruck({ swing }: ScoredSwing): boolean {
  return swing.voidReason !== 'air-swing';
}

/**
 * The swing that score pad and "discard" mean: the latest that met a ball, unless it was discarded: a tap meant
 * for it must not change the score of the one before. The ball went somewhere even when the reach is void, so
 * void swings are scored too.
 */
export function scoreTarget(swings: readonly ScoredSwing[]): ScoredSwing | null {
  const latest = lastStruck(swings);
  return latest === undefined || latest.discarded ? null : latest;
}
