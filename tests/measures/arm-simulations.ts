import { armAngles } from '../../src/core/measures/arm-angles.ts';
import { type ArmVerdicts, armVerdicts } from '../../src/core/measures/arm-verdicts.ts';
import { contactCoupling } from '../../src/core/measures/coupling.ts';
import { freezing } from '../../src/core/measures/freezing.ts';
import { type Shares, shares } from '../../src/core/measures/shares.ts';
import { fitSwingTiming } from '../../src/core/measures/swing-timing.ts';
import {
  type Estimate,
  isUnavailable,
  type Unavailable,
} from '../../src/core/statistics/estimate.ts';
import { answered } from '../statistics/answers.ts';
import { trueShares } from './arm-truth.ts';
import { swingsOf, type VirtualArm } from './virtual-arms.ts';

/** So many sets of n swings of one player; the same seeds give the same sets. */
interface ArmExperiment {
  readonly n: number;
  readonly sets: number;
}

/** Rate of an answer to a question, 0 to 1. */
type Rate = (question: keyof ArmVerdicts, answer: string) => number;

/** How often an interval holds the truth, 0 to 1. */
export interface ShareCoverage {
  readonly distal: number;
  readonly handOver: number;
  /** Shares of own variance of all segments in all bins together. */
  readonly own: number;
}

const NOT_ASKED: Unavailable = { reason: 'too-few', need: 10, have: 0 };

/** Share and hand-over. */
export function shareOutcomes(
  player: VirtualArm,
  { n, sets }: ArmExperiment,
  resamples: number,
): { readonly rate: Rate; readonly covered: ShareCoverage } {
  const measured = setsOf(player, n, sets).map((swings, seed) =>
    answered(shares(swings, { seed, resamples })),
  );
  const verdicts = measured.map((found) => armVerdicts(n, found, NOT_ASKED, NOT_ASKED));
  return { rate: rateAmong(verdicts), covered: coverage(player, measured) };
}

/** Coupling and elbow. */
export function jointOutcomes(player: VirtualArm, { n, sets }: ArmExperiment): Rate {
  return rateAmong(
    setsOf(player, n, sets).map((swings) => {
      const angles = answered(armAngles(swings));
      const atContact = contactCoupling(angles, fitSwingTiming(swings));
      return armVerdicts(n, NOT_ASKED, { atContact }, freezing(swings, angles));
    }),
  );
}

function setsOf(player: VirtualArm, n: number, sets: number) {
  return Array.from({ length: sets }, (_, set) => swingsOf(player, n, 1_000_000 + 1000 * n + set));
}

function rateAmong(verdicts: readonly ArmVerdicts[]): Rate {
  return (question, answer) =>
    verdicts.filter((verdict) => verdict[question].answer === answer).length / verdicts.length;
}

function coverage(player: VirtualArm, measured: readonly Shares[]): ShareCoverage {
  const truth = trueShares(player);
  const share = (pairs: readonly (readonly [Estimate | Unavailable, number])[]) =>
    pairs.filter(([a, t]) => !isUnavailable(a) && a.low <= t && t <= a.high).length / pairs.length;
  return {
    distal: share(measured.map((m) => [m.wholeSwing.distal, truth.distal])),
    handOver: share(
      measured.map(({ handOver }) => [
        isUnavailable(handOver) ? handOver : handOver.index,
        truth.handOver,
      ]),
    ),
    own: share(
      measured.flatMap(({ bins }) =>
        bins.flatMap(({ own }, bin) => own.map((a, k) => [a, truth.own[bin]![k]!] as const)),
      ),
    ),
  };
}
