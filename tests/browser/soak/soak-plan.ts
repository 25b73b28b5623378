import { seededRandom } from '../../../src/core/maths/random.ts';
import type { SessionOptions } from '../../../src/core/simulator/session-types.ts';
import {
  type SimulatedSensors,
  simulateSensors,
} from '../../../src/core/simulator/simulate-session.ts';
import { sessionOptions } from '../../../src/devices/simulated-player.ts';
import type { AirPlan, Drop } from './air-plan.ts';

/** What happens to the page while a set runs. */
export type Trouble =
  | 'clock-forward'
  | 'clock-back'
  /** Another tab is in front for a while. */
  | 'hidden'
  /** Behind another tab and frozen, as a phone does to save power. */
  | 'frozen'
  /** From now on storage takes hardly anything more. */
  | 'storage-full';

/** One set of a soak. */
export interface SetPlan {
  readonly air: AirPlan;
  /** In order of time. */
  readonly troubles: readonly { readonly atS: number; readonly what: Trouble }[];
  /** By the coach when all balls are played or before, or by a reload of the page. */
  readonly ending: 'played-out' | 'ended' | 'reloaded';
  /** When it ends, seconds of the set. */
  readonly endS: number;
}

/** What a set is made for: the rest follows from its seed. */
export interface WantedSet {
  readonly seed: number;
  readonly swings: number;
  readonly ending: SetPlan['ending'];
  readonly isStorageFull?: boolean;
}

/** Drops of a link, seconds: a sensor keeps twelve, so the last two lose something. */
const DROP_S = [2, 6, 9, 20, 40] as const;
/** One drop of some sensor in so many seconds, on the average; the last of them is long over when a set ends. */
const BETWEEN_DROPS_S = 70;
const FIRST_DROP_S = 30;
const QUIET_AT_END_S = 25;
/** A set that is ended early or reloaded: after this share of its time. */
const EARLY_SHARE = [0.6, 0.9] as const;
/** Packets lost on the way in every other set. */
const LOSS = 0.02;
const HEAD = { setId: 'soak', startedAtMs: 0, programVersion: 'soak' };

/** What the app's simulated player is asked to do, by its form's first choice. */
function optionsOf({
  seed,
  swings,
  lossFraction,
}: Omit<AirPlan, 'speed' | 'drops'>): SessionOptions {
  const first = sessionOptions({ implement: 'short', ball: 'training', strategy: 'distal' }, seed);
  return { ...first, swings, errors: { ...first.errors, lossFraction } };
}

/** The sensors of a set, from their beginning. */
export function sensorsOf(air: Omit<AirPlan, 'speed' | 'drops'>): SimulatedSensors {
  return simulateSensors(optionsOf(air), HEAD);
}

/** Plans one set with its faults. */
function planSet({ seed, swings, ending, isStorageFull }: WantedSet, speed: number): SetPlan {
  const random = seededRandom(seed);
  const lossFraction = seed % 2 === 0 ? LOSS : 0;
  const sensors = sensorsOf({ seed, swings, lossFraction });
  const playedS = sensors.endUs / 1e6;
  const endS = ending === 'played-out' ? playedS + 1.5 : playedS * random.uniform(...EARLY_SHARE);
  const lastS = endS - QUIET_AT_END_S;
  const drops: Drop[] = [];
  for (let atS = FIRST_DROP_S; ; ) {
    atS += random.uniform(0.2, 1.8) * BETWEEN_DROPS_S;
    const lastsS = DROP_S[Math.floor(random.uniform(0, DROP_S.length))]!;
    if (atS + lastsS > lastS) break;
    const { serial } = sensors.hardware[Math.floor(random.uniform(0, 3))]!.info;
    drops.push({ serial, atS, lastsS });
    atS += lastsS + QUIET_AT_END_S;
  }
  const kinds: Trouble[] = ['clock-forward', 'hidden', 'clock-back', 'frozen'];
  const troubles = kinds
    .map((what) => ({ atS: random.uniform(15, lastS), what }))
    .filter(() => random.uniform(0, 1) < 0.6);
  if (isStorageFull) troubles.push({ atS: FIRST_DROP_S, what: 'storage-full' });
  troubles.sort((a, b) => a.atS - b.atS);
  return { air: { seed, swings, speed, lossFraction, drops }, troubles, ending, endS };
}

/** The one long set: half an hour. */
const LONG_SWINGS = 300;
/** It begins after this share of a soak's time, so that many sets before it are in one life of the page. */
const LONG_FROM = 0.4;
type Kind = Omit<WantedSet, 'seed' | 'swings'>;
const RELOADED: Kind = { ending: 'reloaded' };
const FULL: Kind = { ending: 'played-out', isStorageFull: true };
const ENDED: Kind = { ending: 'ended' };
const PLAYED_OUT: Kind = { ending: 'played-out' };
const OPENING: readonly Kind[] = [RELOADED, FULL];
const ONE_LIFE: readonly Kind[] = [PLAYED_OUT, ENDED, PLAYED_OUT];
const AFTERWARDS: readonly Kind[] = [RELOADED, ENDED, FULL, PLAYED_OUT];

/**
 * Sets one after another for so many simulated seconds: one with a reload and one with full storage, then many in one
 * life of the page and a long one among them, then all kinds.
 */
export function planSoak(totalS: number, speed: number, firstSeed: number): SetPlan[] {
  const random = seededRandom(firstSeed);
  const sets: SetPlan[] = [];
  let sumS = 0;
  let longAt = -1;
  for (let seed = firstSeed; sumS < totalS; seed++) {
    const i = sets.length;
    if (longAt < 0 && i >= OPENING.length && sumS >= LONG_FROM * totalS) longAt = i;
    const opening = OPENING[i];
    // A file of less than 32 swings may fit into what storage it has when storage gets full.
    let wanted: WantedSet = { seed, swings: Math.round(random.uniform(32, 40)), ...PLAYED_OUT };
    if (opening !== undefined) wanted = { ...wanted, ...opening };
    else if (longAt < 0) wanted = { ...wanted, ...ONE_LIFE[i % ONE_LIFE.length]! };
    else if (i > longAt)
      wanted = { ...wanted, ...AFTERWARDS[(i - longAt - 1) % AFTERWARDS.length]! };
    else wanted = { ...wanted, swings: Math.min(LONG_SWINGS, Math.round(totalS / 24)) };
    const plan = planSet(wanted, speed);
    sets.push(plan);
    sumS += plan.endS;
  }
  return sets;
}
