import type { SetDescription } from '../../src/core/recording/set-description.ts';
import { atFileTime } from '../../src/core/recording/set-file-format.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
import { DEFAULT_ERRORS } from '../../src/core/simulator/sensor-errors.ts';
import type { SessionOptions } from '../../src/core/simulator/session-types.ts';
import { simulateSession } from '../../src/core/simulator/simulate-session.ts';

/** A set as its file holds it, every ball scored by what it did. */
export interface ScoredSet {
  readonly description: SetDescription;
  readonly records: readonly SetRecord[];
}

/** Times on one day and on another, milliseconds since 1970 (UTC). */
const DAY_MS = Date.UTC(2026, 2, 2, 10);
const OTHER_DAY_MS = Date.UTC(2026, 2, 9, 10);

interface Simulated extends Partial<SessionOptions> {
  readonly setId: string;
  readonly player: string;
  readonly startedAtMs: number;
}

/** A set of the simulated player under another name. */
export function scoredSet({ setId, player, startedAtMs, ...change }: Simulated): ScoredSet {
  const options: SessionOptions = {
    seed: 1,
    strategy: 'distal',
    implement: 'short',
    ball: 'training',
    handedness: 'right',
    swings: 40,
    swingIntervalS: 5,
    nominalRateHz: 200,
    errors: DEFAULT_ERRORS,
    ...change,
  };
  const session = simulateSession(options, { setId, startedAtMs, programVersion: 'test' });
  const records: SetRecord[] = [];
  for (const step of session.steps) {
    if (step.kind === 'record') records.push(atFileTime(step.record));
    else {
      const { contactTimeUs, points } = step.landing;
      const event = { type: 'score', contactTimeUs, points } as const;
      records.push(atFileTime({ kind: 'event', hostTimeUs: step.hostTimeUs, event }));
    }
  }
  const hostTimeUs = records.at(-1)!.hostTimeUs;
  records.push({ kind: 'event', hostTimeUs, event: { type: 'set-ended' } });
  return { description: { ...session.description, player }, records };
}

/**
 * Three invented players. With the short racket the first steers through forearm and hand and is stiff with the full
 * one; the second is so the other way round, having outgrown the short one; the third has hit a few balls with each.
 */
export const SIDE_BY_SIDE_PLAYERS = {
  'Player Scale': () => [
    scoredSet({
      setId: 'scale',
      player: 'Player Scale',
      startedAtMs: DAY_MS,
      seed: Number(process.env.SEED ?? 21),
      strategy: (process.env.STRAT ?? 'frozen') as 'frozen',
      implement: 'full',
      ball: 'standard',
      swings: 15,
      laterBlocks: [
        { implement: 'short', ball: 'training', swings: 30 },
        { implement: 'full', ball: 'standard', swings: 15 },
      ],
    }),
  ],
  'Player Step': () => [
    scoredSet({
      setId: 'step-full',
      player: 'Player Step',
      startedAtMs: DAY_MS,
      seed: 23,
      implement: 'full',
    }),
    scoredSet({
      setId: 'step-short',
      player: 'Player Step',
      startedAtMs: OTHER_DAY_MS,
      seed: 24,
      strategy: 'frozen',
    }),
  ],
  'Player Thin': () => [
    scoredSet({
      setId: 'thin',
      player: 'Player Thin',
      startedAtMs: DAY_MS,
      seed: 25,
      swings: 6,
      laterBlocks: [{ implement: 'full', ball: 'training', swings: 6 }],
    }),
  ],
} as const satisfies Readonly<Record<string, () => readonly ScoredSet[]>>;
