import { SEGMENTS, type Segment } from '../../../src/core/arm/segments.ts';
import {
  decodeStreamPacket,
  encodeStreamPacket,
  type StreamPacket,
} from '../../../src/core/packets/stream-packet.ts';
import { createPipeline, stepPipeline, viewPipeline } from '../../../src/core/pipeline/pipeline.ts';
import type { StoredSet } from '../../../src/core/recording/set-reader.ts';
import type { SetRecord } from '../../../src/core/recording/set-record.ts';
import type { MadePacket } from '../../../src/core/simulator/sample-stream.ts';
import type { Drop } from './air-plan.ts';
import { type SetPlan, sensorsOf } from './soak-plan.ts';

/** One set's file against what its sensors made and its player did. */
export interface Account {
  /** Packets made from the first one sent to the end of the set. */
  readonly sent: number;
  readonly inFile: number;
  /** The file says that they are lost for good: made while a link was down for longer than the sensor's ring. */
  readonly toldLost: number;
  /** Of those in the file, with a sample that Node's simulator rounds to the neighbouring integer. */
  readonly rounded: number;
  /** Swings found by running the file through the pipeline, the void ones among them, and those truly struck. */
  readonly swings: number;
  readonly voidSwings: number;
  readonly struck: number;
  /** Struck, not found, and at a time of which packets were told lost. */
  readonly missedInGaps: number;
  /** The last record's host time, microseconds. */
  readonly untilUs: number;
  /** Everything for which there is no reason, in words; must be empty. */
  readonly unexplained: readonly string[];
}

/** The sensor keeps 12 s; a drop that ends within this, and the link's wait before it tries again, loses nothing. */
const RING_SAFE_S = 10;
/** A link tries again within 4 s; what the ring still holds then comes, but for the oldest few seconds under way. */
const LAST_LOST_BEFORE_BACK_S = 3.5;
/** The first packets are made before the link has started the sensor. */
const STARTED_WITHIN_US = 0.5e6;
/** Made that late before the coach's end of a set, a packet may be under way (two radio delays, and the stop). */
const UNDER_WAY_US = 0.25e6;
/**
 * When the simulated sensors fall silent, what is asked for again has no next packet to go out with; a real sensor goes
 * on. Losses of the last second and a half may not be mended.
 */
const SILENT_US = 1.5e6;
/** A reload cuts what is asked for again: it comes within some seconds or not at all. */
const CUT_US = 3e6;
/** Of a contact; neighbouring ones are seconds apart. */
const SAME_CONTACT_US = 50_000;
/** A contact is decided within the second that follows it. */
const DECIDED_WITHIN_US = 1e6;
/** A gap spoils the swings so near to it, microseconds. */
const SPOILT_US = 6e6;

/**
 * Logarithms of Chromium and of Node differ in the last digit (as in tests/browser/crash.test.ts), and noise is made of
 * them: of half a million samples one is rounded the other way. The packet's checksum, made in Chromium, is right.
 */
const MOST_ROUNDED = 1 / 2000;

type Made = MadePacket & { fate: 'unknown' | 'in-file' | 'told-lost' };

/** Accounts for every packet and swing of a set; none of this is the app's own reading but the pipeline. */
export function accountFor(set: StoredSet, plan: SetPlan): Account {
  const { records } = set;
  const untilUs = records.at(-1)?.hostTimeUs ?? 0;
  const unexplained: string[] = [];
  if (set.skippedRecords > 0) unexplained.push(`${set.skippedRecords} records skipped`);
  const isWhole = plan.ending !== 'reloaded';
  if (isWhole && (!set.complete || set.fault !== null)) unexplained.push(`not whole: ${set.fault}`);
  const sums = { sent: 0, inFile: 0, toldLost: 0, rounded: 0 };
  const sensors = sensorsOf(plan.air);
  for (const [k, segment] of SEGMENTS.entries()) {
    const { info, packets } = sensors.hardware[k]!;
    const made = madeUntil(packets, untilUs);
    const { wrong, rounded } = fillIn(made, records, segment);
    unexplained.push(...wrong);
    sums.rounded += rounded;
    const drops = plan.air.drops.filter(({ serial }) => serial === info.serial);
    const lateUs = untilUs - (isWhole ? UNDER_WAY_US : CUT_US);
    for (const packet of sentOnes(made)) {
      if (packet.fate === 'unknown' && packet.madeUs > lateUs) continue;
      sums.sent++;
      if (packet.fate === 'in-file') sums.inFile++;
      else if (packet.fate === 'told-lost') sums.toldLost++;
      const isAtSilence = plan.air.lossFraction > 0 && packet.madeUs > sensors.endUs - SILENT_US;
      const isExplained =
        packet.fate === 'in-file' ||
        (packet.fate === 'told-lost' &&
          (isAtSilence || drops.some((drop) => loses(drop, packet.madeUs))));
      if (!isExplained) {
        unexplained.push(
          `${segment} ${packet.packet.sequence} at ${(packet.madeUs / 1e6).toFixed(2)} s: ${packet.fate}`,
        );
      }
    }
  }
  if (sums.rounded > 1 + sums.inFile * MOST_ROUNDED) {
    unexplained.push(`${sums.rounded} packets rounded otherwise`);
  }
  const contactsUs = sensors.swings.map(({ contactTimeUs }) => contactTimeUs);
  const swings = swingsAccount(set, contactsUs, plan.air.drops.filter(isLong), untilUs);
  return { ...sums, ...swings, untilUs, unexplained: [...unexplained, ...swings.unexplained] };
}

function isLong({ lastsS }: Drop): boolean {
  return lastsS > RING_SAFE_S;
}

/** Whether a packet made then may be told lost because of a drop. */
function loses(drop: Drop, madeUs: number): boolean {
  const { atS, lastsS } = drop;
  const s = madeUs / 1e6;
  return isLong(drop) && s >= atS - 0.2 && s <= atS + lastsS - LAST_LOST_BEFORE_BACK_S;
}

function madeUntil(packets: Iterator<MadePacket, void>, untilUs: number): Made[] {
  const made: Made[] = [];
  for (let next = packets.next(); next.done !== true; next = packets.next()) {
    if (next.value.madeUs > untilUs) break;
    made.push({ ...next.value, fate: 'unknown' });
  }
  return made;
}

/** Without those made before the sensor was started. */
function sentOnes(made: readonly Made[]): readonly Made[] {
  const first = made.findIndex(
    ({ fate, madeUs }) => fate !== 'unknown' || madeUs > STARTED_WITHIN_US,
  );
  return first < 0 ? [] : made.slice(first);
}

/** Enters what the file says of one sensor. @returns what fits nothing made, and how many only differ in rounding */
function fillIn(
  made: readonly Made[],
  records: readonly SetRecord[],
  segment: Segment,
): { wrong: string[]; rounded: number } {
  const wrong: string[] = [];
  let rounded = 0;
  const bySequence = new Map<number, Made[]>();
  for (const one of made) {
    const { sequence } = one.packet;
    bySequence.set(sequence, [...(bySequence.get(sequence) ?? []), one]);
  }
  const enter = (sequence: number, hostTimeUs: number, fate: Made['fate']): Made | undefined => {
    const one = bySequence.get(sequence)?.findLast(({ madeUs }) => madeUs <= hostTimeUs);
    if (one === undefined || one.fate !== 'unknown') {
      wrong.push(`${segment} ${sequence}: ${fate}, though ${one?.fate ?? 'never made'}`);
    } else one.fate = fate;
    return one;
  };
  for (const record of records) {
    const { hostTimeUs } = record;
    if (record.kind === 'event') {
      const { event } = record;
      if (event.type !== 'packets-lost' || event.segment !== segment) continue;
      for (let i = 0; i < event.count; i++) {
        enter((event.firstSequence + i) & 0xffff, hostTimeUs, 'told-lost');
      }
    } else if (record.kind === 'notification' && record.segment === segment) {
      const decoded = decodeStreamPacket(record.bytes);
      if (!decoded.ok) {
        wrong.push(`${segment}: ${decoded.fault.message}`);
        continue;
      }
      const one = enter(decoded.packet.sequence, hostTimeUs, 'in-file');
      if (one === undefined) continue;
      const likeness = compare(decoded.packet, one.packet);
      if (likeness === 'rounded') rounded++;
      else if (likeness === 'other') {
        wrong.push(`${segment} ${one.packet.sequence}: other bytes than those made`);
      }
    }
  }
  return { wrong, rounded };
}

/** A packet of the file, whose checksum was right, against the one made again from the same seed. */
function compare(recorded: StreamPacket, made: StreamPacket): 'same' | 'rounded' | 'other' {
  const bytes = encodeStreamPacket({ ...made, resent: recorded.resent });
  if (isSame(encodeStreamPacket(recorded), bytes)) return 'same';
  const samples = recorded.samples;
  const isNear =
    samples.length === made.samples.length &&
    samples.every((value, i) => Math.abs(value - made.samples[i]!) <= 1);
  const withMade = encodeStreamPacket({ ...recorded, samples: made.samples });
  return isNear && isSame(withMade, bytes) ? 'rounded' : 'other';
}

function isSame(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, i) => byte === b[i]);
}

function swingsAccount(
  set: StoredSet,
  contactsUs: readonly number[],
  gaps: readonly Drop[],
  untilUs: number,
): Pick<Account, 'swings' | 'voidSwings' | 'struck' | 'missedInGaps' | 'unexplained'> {
  const state = createPipeline(set.description);
  for (const record of set.records) stepPipeline(state, record);
  const found = viewPipeline(state).swings.map(({ swing }) => swing);
  const isIn = (us: number) =>
    gaps.some(
      ({ atS, lastsS }) => us >= atS * 1e6 - SPOILT_US && us <= (atS + lastsS) * 1e6 + SPOILT_US,
    );
  const isNear = (aUs: number, bUs: number) => Math.abs(aUs - bUs) <= SAME_CONTACT_US;
  const struck = contactsUs.filter((us) => us <= untilUs - DECIDED_WITHIN_US);
  const missed = struck.filter((us) => !found.some((s) => isNear(s.contactTimeUs, us)));
  const unexplained = [
    ...missed.filter((us) => !isIn(us)).map((us) => `swing at ${us / 1e6} s not found`),
    ...found
      .filter((s) => !contactsUs.some((us) => isNear(us, s.contactTimeUs)))
      .map((s) => `swing found at ${s.contactTimeUs / 1e6} s that was none`),
  ];
  return {
    swings: found.length,
    voidSwings: found.filter((s) => s.voidReason !== null).length,
    struck: struck.length,
    missedInGaps: missed.length,
    unexplained,
  };
}
