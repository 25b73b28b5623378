import type { BootstrapOptions } from '../statistics/bootstrap-interval.ts';
import { isUnavailable, type Unavailable } from '../statistics/estimate.ts';
import { type ArmAngles, armAngles } from './arm-angles.ts';
import { type ArmVerdicts, armVerdicts } from './arm-verdicts.ts';
import { type Coupling, coupling } from './coupling.ts';
import { type EffectiveDimension, effectiveDimension } from './effective-dimension.ts';
import { type Freezing, freezing } from './freezing.ts';
import type { MeasuredSwing } from './measured-swing.ts';
import { type Shares, shares } from './shares.ts';
import { type StateSpaceArea, stateSpaceArea } from './state-space-area.ts';
import { fitSwingTiming } from './swing-timing.ts';
import { MEASURES } from './thresholds.ts';

/** How the parts of the arm take part in the swings of a set. */
export interface ArmMeasures {
  readonly n: number;
  readonly angles: ArmAngles | Unavailable;
  readonly shares: Shares | Unavailable;
  readonly coupling: Coupling | Unavailable;
  readonly freezing: Freezing | Unavailable;
  readonly effectiveDimension: EffectiveDimension | Unavailable;
  readonly stateSpaceArea: StateSpaceArea | Unavailable;
  readonly verdicts: ArmVerdicts;
}

const MINIMUM_N = MEASURES.shares.limits.minimumN;

/**
 * All measures of the arm's parts.
 * @param swings of one player under one condition, at least ten for an answer
 * @returns the same for the same swings, seed and number of resamples
 * Source: design.md section 9.
 * Checked: tests/measures/measure-arm.test.ts, tests/measures/arm-operating.test.ts
 */
export function measureArm(
  swings: readonly MeasuredSwing[],
  options: Pick<BootstrapOptions, 'seed' | 'resamples'>,
): ArmMeasures {
  const n = swings.length;
  const angles = n < MINIMUM_N ? tooFew(n) : armAngles(swings);
  const of = <T>(measure: (angles: ArmAngles) => T | Unavailable) =>
    isUnavailable(angles) ? angles : measure(angles);
  const parts = {
    shares: shares(swings, options),
    coupling: of((found) => coupling(found, fitSwingTiming(swings))),
    freezing: of((found) => freezing(swings, found)),
  };
  return {
    n,
    angles,
    ...parts,
    effectiveDimension: of(effectiveDimension),
    stateSpaceArea: of(stateSpaceArea),
    verdicts: armVerdicts(n, parts.shares, parts.coupling, parts.freezing),
  };
}

function tooFew(have: number): Unavailable {
  return { reason: 'too-few', need: MINIMUM_N, have };
}
