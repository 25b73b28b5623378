import type { Condition } from '../../core/recording/set-record.ts';
import { centimetres, metresOf } from '../controls/centimetres.ts';
import type { Library } from '../library-model.ts';

/** One condition as typed: implement, ball and feed; lengths in centimetres, NaN until they are typed. */
export interface KitEntry {
  readonly implement: string;
  readonly ball: string;
  /** May stay empty. */
  readonly feed: string;
  readonly wristToSweetSpotCm: number;
  /** From the wrist to the implement's sensor. */
  readonly implementSensorCm: number;
  /** NaN while nobody knows it. */
  readonly hopedReachCm: number;
  readonly halfWidthCm: number;
}

/** Nothing is known of the kit but the usual place of its sensor. */
export const NEW_KIT: KitEntry = {
  implement: '',
  ball: '',
  feed: '',
  wristToSweetSpotCm: Number.NaN,
  implementSensorCm: 13,
  hopedReachCm: Number.NaN,
  halfWidthCm: 3,
};

type KitLengths = Pick<KitEntry, 'wristToSweetSpotCm' | 'implementSensorCm'>;

/** What an earlier set tells of an implement: one that is chosen again need not be measured again. */
export function ofImplement(library: Library | null, implement: string): Partial<KitLengths> {
  const row = library?.implements.find((candidate) => candidate.implement === implement.trim());
  return row === undefined
    ? {}
    : {
        wristToSweetSpotCm: centimetres(row.lengthM),
        implementSensorCm: centimetres(row.sensorM),
      };
}

/**
 * A kit with another implement: the lengths come from another kit of the plan or from earlier sets; those of a known
 * implement never stay with one that nobody has measured.
 */
export function withImplement(
  kit: KitEntry,
  implement: string,
  others: readonly KitEntry[],
  library: Library | null,
): KitEntry {
  const lengthsOf = (name: string): Partial<KitLengths> => {
    const same = others.find((other) => other.implement.trim() === name.trim());
    if (same === undefined || name.trim() === '') return ofImplement(library, name);
    const { wristToSweetSpotCm, implementSensorCm } = same;
    return { wristToSweetSpotCm, implementSensorCm };
  };
  const wasKnown = lengthsOf(kit.implement).wristToSweetSpotCm !== undefined;
  const { wristToSweetSpotCm, implementSensorCm } = wasKnown ? NEW_KIT : kit;
  return { ...kit, wristToSweetSpotCm, implementSensorCm, ...lengthsOf(implement), implement };
}

/** The form of a planned condition. */
export function entryOfCondition(condition: Condition): KitEntry {
  const { implement, ball, feed, implementLengthM, implementSensorFromWristM } = condition;
  const band = condition.sweetSpotBand;
  return {
    implement,
    ball,
    feed,
    wristToSweetSpotCm: centimetres(implementLengthM),
    implementSensorCm: centimetres(implementSensorFromWristM),
    hopedReachCm: band === null ? NEW_KIT.hopedReachCm : centimetres(band.reachM),
    halfWidthCm: band === null ? NEW_KIT.halfWidthCm : centimetres(band.halfWidthM),
  };
}

/** Whether the reach hoped for with a kit is known. */
export function hasBand({ hopedReachCm }: KitEntry): boolean {
  return !Number.isNaN(hopedReachCm);
}

/** The condition of a form that is filled in, lengths in metres. */
export function conditionOf(entry: KitEntry): Condition {
  return {
    implement: entry.implement.trim(),
    ball: entry.ball.trim(),
    feed: entry.feed.trim(),
    implementLengthM: metresOf(entry.wristToSweetSpotCm),
    implementSensorFromWristM: metresOf(entry.implementSensorCm),
    sweetSpotBand: hasBand(entry)
      ? { reachM: metresOf(entry.hopedReachCm), halfWidthM: metresOf(entry.halfWidthCm) }
      : null,
  };
}

/** Kits as the order of blocks names them. */
export function kitLetter(place: number): string {
  return 'ABCDEFGHIJ'[place] ?? String(place + 1);
}

/** What makes two kits the same, or not fit together, in words; null when they can be played. */
export function kitProblem(kits: readonly KitEntry[]): string | null {
  for (const [i, a] of kits.map(conditionOf).entries()) {
    for (const [j, b] of kits.slice(0, i).map(conditionOf).entries()) {
      if (a.implement === '' || a.implement !== b.implement) continue;
      const names = `Kits ${kitLetter(j)} and ${kitLetter(i)}`;
      if (a.ball === b.ball && a.feed === b.feed) {
        return `${names} are the same: change implement, ball or feed of one, or remove it.`;
      }
      if (
        a.implementLengthM !== b.implementLengthM ||
        a.implementSensorFromWristM !== b.implementSensorFromWristM
      ) {
        return `${names} give one implement different lengths: make them the same, or name two implements.`;
      }
    }
  }
  return null;
}
