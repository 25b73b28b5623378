import type { SetDescription } from '../core/recording/set-description.ts';
import { DEFAULT_ERRORS } from '../core/simulator/sensor-errors.ts';
import type { Kit, SessionOptions } from '../core/simulator/session-types.ts';

/** A set to be recorded; its name is that of the file and of the set. */
export interface DemoSet {
  readonly name: string;
  readonly options: SessionOptions;
  readonly startedAtMs: number;
  /** What the app would write beside what the simulator says. */
  readonly said: Partial<Pick<SetDescription, 'player' | 'consentOn'>>;
}

/** An invented player of whom it is known which kit serves best, because the simulator moves that way. */
export interface DemoPlayer {
  readonly player: string;
  /** Of the files, before the day. */
  readonly prefix: string;
  /** Of the first set, days after the first of all. */
  readonly firstDay: number;
  readonly answer: 'scale-down' | 'step-up' | 'not-enough';
  /** What is true of this player, for whoever reads the file beside the set. */
  readonly truth: string;
  readonly handling: NonNullable<SessionOptions['handling']>;
  /** Of the first set; each later one has the next. */
  readonly seed: number;
  /** Kit of the blocks of each set, a day each. */
  readonly days: readonly (readonly [Kit, Kit])[];
  readonly swingsPerBlock: number;
  /** Measured by src/batch/try-demo-seeds.ts, under seeds that were not looked at while the players were made. */
  readonly otherSeeds: { readonly tried: number; readonly right: number; readonly wrong: number };
}

const SHORT: Kit = { implement: 'short', ball: 'training' };
const FULL: Kit = { implement: 'full', ball: 'standard' };
const FITS = { strategy: 'coupled', unsteadiness: 0.7, mistiming: 1 } as const;

const USUAL = {
  handedness: 'right',
  nominalRateHz: 200,
  errors: DEFAULT_ERRORS,
} as const;

// Dates of no meaning: files must come out the same whenever they are made.
const FIRST_DAY_MS = Date.UTC(2026, 0, 10, 10);
const DAY_MS = 24 * 3600 * 1000;

/** Three players whose answers differ. Each plays last with the kit that the question starts from. */
export const DEMO_PLAYERS: readonly DemoPlayer[] = [
  {
    player: 'Player B (invented)',
    prefix: 'player-b',
    firstDay: 3,
    answer: 'scale-down',
    truth:
      'The full racket is too long and heavy: stiff elbow, wide reach, balls met early or late. With the short racket and the training ball the upper arm is steady, and forearm and hand make up for each other.',
    handling: { full: { strategy: 'proximal', unsteadiness: 0.9, mistiming: 2 }, short: FITS },
    seed: 21,
    days: [
      [FULL, SHORT],
      [SHORT, FULL],
    ],
    swingsPerBlock: 16,
    otherSeeds: { tried: 20, right: 20, wrong: 0 },
  },
  {
    player: 'Player C (invented)',
    prefix: 'player-c',
    firstDay: 6,
    answer: 'step-up',
    truth:
      'Balls score well with both rackets. With the full one the upper arm is steady, and forearm and hand make up for each other; the short one has become too light, so that the whole arm varies and reach is less steady.',
    handling: {
      full: { ...FITS, unsteadiness: 0.5, mistiming: 0.5 },
      short: { strategy: 'distal', unsteadiness: 1.3, mistiming: 1 },
    },
    seed: 31,
    days: [
      [SHORT, FULL],
      [FULL, SHORT],
    ],
    swingsPerBlock: 16,
    otherSeeds: { tried: 20, right: 20, wrong: 0 },
  },
  {
    player: 'Player D (invented)',
    prefix: 'player-d',
    firstDay: 9,
    answer: 'not-enough',
    truth: 'Six swings with each kit: too few for any answer, whatever the movement is.',
    handling: { full: FITS, short: FITS },
    seed: 41,
    days: [[SHORT, FULL]],
    swingsPerBlock: 6,
    otherSeeds: { tried: 20, right: 20, wrong: 0 },
  },
];

/** Player A: the same nine-year-old with scaled and with full-size kit, one set of one block each. */
export const PLAYER_A_SETS: readonly DemoSet[] = [
  playerA('player-a-short-racket', { seed: 7, strategy: 'distal', ...SHORT }),
  playerA('player-a-full-racket', { seed: 8, strategy: 'frozen', ...FULL }),
];

function playerA(
  name: string,
  chosen: Pick<SessionOptions, 'seed' | 'strategy' | 'implement' | 'ball'>,
): DemoSet {
  const options = { ...chosen, ...USUAL, swings: 20, swingIntervalS: 6 };
  return { name, options, startedAtMs: FIRST_DAY_MS, said: {} };
}

/** The sets of a player, oldest first. @param seed of the first; another one gives other swings of the same player */
export function setsOf(demo: DemoPlayer, seed: number = demo.seed): DemoSet[] {
  const { player, prefix, firstDay, handling, days, swingsPerBlock: swings } = demo;
  return days.map(([first, then], day): DemoSet => {
    const options: SessionOptions = {
      ...USUAL,
      ...first,
      seed: seed + day,
      strategy: 'distal',
      handling,
      swings,
      // The shortest there is: the files are to be small.
      swingIntervalS: 4,
      laterBlocks: [{ ...then, swings }],
    };
    return {
      name: `${prefix}-day-${day + 1}`,
      options,
      startedAtMs: FIRST_DAY_MS + (firstDay + day) * DAY_MS,
      said: { player, consentOn: '2026-01-09' },
    };
  });
}
