import { normalQuantile } from '../statistics/distributions.ts';
import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import type { CarryOver } from './carry-over.ts';
import type { GeometryNull } from './geometry-null.ts';
import type { MidToContact, Narrowing } from './narrowing.ts';
import type { FunnelBand } from './reach-at-contact.ts';
import type { ReachTable, TimedReachTable } from './reach-table.ts';
import { MEASURES } from './thresholds.ts';
import type { TimingNull } from './timing-null.ts';

const LIMITS = MEASURES.funnel.limits;

/** How one guard sees the claim that reach narrows toward contact. */
export type GuardAnswer =
  | { readonly answer: 'agrees' }
  /** The estimate speaks for it, the interval does not exclude the contrary; null: too many swings to ask for. */
  | { readonly answer: 'undecided'; readonly moreSwings: number | null }
  | { readonly answer: 'contradicts' }
  | { readonly answer: 'unknown'; readonly why: Unavailable };

export type GuardName = keyof typeof MEASURES.funnel.words.guards;

/** What the guards look at. */
export interface FunnelEvidence {
  readonly table: ReachTable;
  readonly band: FunnelBand;
  readonly narrowing: Narrowing | Unavailable;
  readonly midToContact: MidToContact;
  /** In milliseconds before contact. */
  readonly timed:
    | {
        readonly table: TimedReachTable;
        readonly band: FunnelBand;
        readonly narrowing: Narrowing | Unavailable;
        readonly midToContact: MidToContact;
      }
    | Unavailable;
  readonly carryOver: CarryOver;
  readonly timingNull: TimingNull;
  readonly geometryNull: GeometryNull | Unavailable;
}

/**
 * All guards of the verdict, in the order in which a coach should hear of them.
 * Source: design.md section 9.  Checked: tests/measures/funnel-verdict.test.ts, tests/measures/funnel-operating.test.ts
 */
export function askGuards(evidence: FunnelEvidence): Record<GuardName, GuardAnswer> {
  const { timed } = evidence;
  return {
    floor: aboveFloor(evidence.table),
    narrowing: narrows(evidence.narrowing),
    midToContact: smallerAtContact(evidence.midToContact),
    milliseconds: isUnavailable(timed)
      ? { answer: 'unknown', why: timed }
      : weaker(narrows(timed.narrowing), smallerAtContact(timed.midToContact)),
    carryOver: notCarried(evidence.carryOver),
    timing: smallerAtContact(evidence.timingNull.left),
    geometry: belowGeometry(evidence.geometryNull),
  };
}

/** A spread at or below the floor is never called narrowing. */
function aboveFloor({ funnel, mid, points }: ReachTable): GuardAnswer {
  const isAbove = (p: number) => funnel.spreadM[p]! > funnel.floorM[p]!;
  return { answer: isAbove(mid) && isAbove(points - 1) ? 'agrees' : 'contradicts' };
}

function narrows(narrowing: Narrowing | Unavailable): GuardAnswer {
  if (isUnavailable(narrowing)) return { answer: 'unknown', why: narrowing };
  // Where contact is the widest in every resample there is no interval, and no doubt either.
  if (narrowing.ratio >= LIMITS.narrowingAtMost) return { answer: 'contradicts' };
  return below(narrowing.interval, LIMITS.narrowingAtMost, Math.log);
}

function smallerAtContact({ ratio, withoutNarrowing }: MidToContact): GuardAnswer {
  if (isUnavailable(ratio)) return { answer: 'unknown', why: ratio };
  const inverse = { ...ratio, value: 1 / ratio.value, low: 1 / ratio.high, high: 1 / ratio.low };
  return below(inverse, 1 / withoutNarrowing, Math.log);
}

function notCarried({ fromMid }: CarryOver): GuardAnswer {
  if (isUnavailable(fromMid)) return { answer: 'unknown', why: fromMid };
  const turned = fromMid.value < 0;
  const size = {
    ...fromMid,
    value: Math.abs(fromMid.value),
    high: turned ? -fromMid.low : fromMid.high,
  };
  return below(size, LIMITS.carriedFrom, Math.atanh);
}

function belowGeometry(geometry: GeometryNull | Unavailable): GuardAnswer {
  if (isUnavailable(geometry)) return { answer: 'unknown', why: geometry };
  if (geometry.ratio >= LIMITS.geometryAtMost) return { answer: 'contradicts' };
  return below(geometry.intervalForVerdict, LIMITS.geometryAtMost, Math.log);
}

/** Answer of an estimate that should lie below a limit; `scale` makes its interval roughly symmetric. */
function below(
  estimate: Estimate | Unavailable,
  limit: number,
  scale: (x: number) => number,
): GuardAnswer {
  if (isUnavailable(estimate)) return { answer: 'unknown', why: estimate };
  if (estimate.value >= limit) return { answer: 'contradicts' };
  if (estimate.high < limit) return { answer: 'agrees' };
  const value = scale(estimate.value);
  const halfWidth = scale(estimate.high) - value;
  return {
    answer: 'undecided',
    moreSwings: moreSwings(estimate.n, (scale(limit) - value) / halfWidth),
  };
}

// Four in five players who truly are as they seem would then be recognised as such.
const Z_LEVEL = normalQuantile(0.975);
const WITH_POWER = (Z_LEVEL + normalQuantile(0.8)) / Z_LEVEL;

/**
 * Swings to add until an interval that shrinks with sqrt(n) clears its limit, for an effect as estimated.
 * @param distance from estimate to limit, in half-widths of the present interval, 0 to 1
 */
function moreSwings(n: number, distance: number): number | null {
  const more = Math.ceil(n * ((WITH_POWER / distance) ** 2 - 1));
  return more <= LIMITS.mostMoreSwings ? more : null;
}

const FROM_WEAKEST = ['contradicts', 'unknown', 'undecided', 'agrees'] as const;

function weaker(a: GuardAnswer, b: GuardAnswer): GuardAnswer {
  if (a.answer === 'undecided' && b.answer === 'undecided')
    return (a.moreSwings ?? Infinity) > (b.moreSwings ?? Infinity) ? a : b;
  return FROM_WEAKEST.indexOf(a.answer) <= FROM_WEAKEST.indexOf(b.answer) ? a : b;
}
