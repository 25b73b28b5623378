import { RAD_PER_DEG } from '../maths/angles.ts';
import { type Estimate, isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import type { Coupling } from './coupling.ts';
import type { Freezing } from './freezing.ts';
import type { Shares } from './shares.ts';
import { MEASURES } from './thresholds.ts';
import { unknownVerdict, type Verdict, verdictOf } from './verdict.ts';

/** What the measures of the arm say, for a coach. */
export interface ArmVerdicts {
  /** Which part of the arm carries most of the spread of reach over the whole swing. */
  readonly share: Verdict<'distal' | 'proximal' | 'undecided'>;
  readonly handOver: Verdict<'abrupt' | 'gradual' | 'undecided'>;
  readonly coupling: Verdict<'coupled' | 'undecided'>;
  readonly elbow: Verdict<'frozen' | 'moving' | 'undecided'>;
}

/**
 * Answers only where an interval lies wholly on one side of its limit.
 * @param n swings of the set
 * Source: design.md section 9; limits: MEASURES.
 * Checked: tests/measures/arm-operating.test.ts: how often each is right and wrong, by simulation
 */
export function armVerdicts(
  n: number,
  shares: Shares | Unavailable,
  coupling: Pick<Coupling, 'atContact'> | Unavailable,
  freezing: Freezing | Unavailable,
): ArmVerdicts {
  return {
    share: shareVerdict(n, shares),
    handOver: handOverVerdict(n, shares),
    coupling: couplingVerdict(n, coupling),
    elbow: elbowVerdict(n, freezing),
  };
}

function shareVerdict(n: number, shares: Shares | Unavailable): ArmVerdicts['share'] {
  const distal = isUnavailable(shares) ? shares : shares.wholeSwing.distal;
  if (isUnavailable(distal)) return unknownVerdict(MEASURES.shares, n, distal);
  const { halfway } = MEASURES.shares.limits;
  return verdictOf(MEASURES.shares, n, side(distal, halfway, 'distal', 'proximal'));
}

function handOverVerdict(n: number, shares: Shares | Unavailable): ArmVerdicts['handOver'] {
  const index = isUnavailable(shares) ? shares : shares.handOverForVerdict;
  if (isUnavailable(index)) return unknownVerdict(MEASURES.handOver, n, index);
  const { abruptFrom } = MEASURES.handOver.limits;
  return verdictOf(MEASURES.handOver, n, side(index, abruptFrom, 'abrupt', 'gradual'));
}

/**
 * Coupled only when none of the three things that look like it accounts for it: segments independent in space,
 * a turn of the whole arm with an elbow of its own, and one course met early or late.
 */
function couplingVerdict(
  n: number,
  coupling: Pick<Coupling, 'atContact'> | Unavailable,
): ArmVerdicts['coupling'] {
  if (isUnavailable(coupling)) return unknownVerdict(MEASURES.coupling, n, coupling);
  const { inSpace, withElbow, withoutTiming } = coupling.atContact;
  for (const why of [inSpace, withElbow, withoutTiming])
    if (isUnavailable(why)) return unknownVerdict(MEASURES.coupling, n, why);
  const signs = [inSpace, withElbow, withoutTiming].map((r) => sign(r as Estimate));
  const coupled = signs.every((s) => s !== 0) && signs[0] === signs[2];
  return verdictOf(MEASURES.coupling, n, coupled ? 'coupled' : 'undecided');
}

function elbowVerdict(n: number, freezing: Freezing | Unavailable): ArmVerdicts['elbow'] {
  const excursion = isUnavailable(freezing) ? freezing : freezing.elbowExcursionRad;
  if (isUnavailable(excursion)) return unknownVerdict(MEASURES.freezing, n, excursion);
  const limit = MEASURES.freezing.limits.frozenBelowDeg * RAD_PER_DEG;
  return verdictOf(MEASURES.freezing, n, side(excursion, limit, 'moving', 'frozen'));
}

/** Which side of a limit an interval lies on. */
function side<Above, Below>(
  { low, high }: Estimate,
  limit: number,
  above: Above,
  below: Below,
): Above | Below | 'undecided' {
  if (low > limit) return above;
  return high < limit ? below : 'undecided';
}

function sign({ low, high }: Estimate): number {
  if (low > 0) return 1;
  return high < 0 ? -1 : 0;
}
