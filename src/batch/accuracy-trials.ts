import { DEFAULT_PARAMS, type PipelineParams } from '../core/pipeline/params.ts';
import { DEFAULT_ERRORS, NO_ERRORS, type SensorErrors } from '../core/simulator/sensor-errors.ts';
import type { SessionOptions } from '../core/simulator/session-types.ts';
import { TOLD_TRULY, type Told } from './told-description.ts';

/** One simulated set to be measured. */
export interface Trial {
  readonly name: string;
  /** Whether the goals of design.md section 13 must be met; the others only show what something costs. */
  readonly hasGoals: boolean;
  readonly options: SessionOptions;
  readonly params: PipelineParams;
  readonly told: Told;
}

const SEEDS = [1, 2, 3, 4, 5];
const STRATEGIES = ['distal', 'frozen'] as const;

const BASE: SessionOptions = {
  seed: 1,
  strategy: 'distal',
  implement: 'full',
  ball: 'standard',
  handedness: 'right',
  swings: 40,
  swingIntervalS: 6,
  nominalRateHz: 200,
  errors: DEFAULT_ERRORS,
};

/** 40 swings over four minutes, 160 over fifteen. */
const LENGTHS = [
  { name: '40 swings', swings: 40, swingIntervalS: 6 },
  { name: '160 swings', swings: 160, swingIntervalS: 5.6 },
] as const;

/** Both strategies, five seeds, both hands, implements of 0.45 and 0.69 m, short and long sets. */
export function goalTrials(): Trial[] {
  return LENGTHS.flatMap(({ name, ...length }) =>
    (['short', 'long'] as const).flatMap((implement) =>
      (['right', 'left'] as const).flatMap((handedness) =>
        STRATEGIES.flatMap((strategy) =>
          SEEDS.map((seed) => ({
            name: `${name}, ${implement}, ${handedness}`,
            hasGoals: true,
            options: { ...BASE, ...length, implement, handedness, strategy, seed },
            params: DEFAULT_PARAMS,
            told: TOLD_TRULY,
          })),
        ),
      ),
    ),
  );
}

const { lengthsOffM: NOTHING } = TOLD_TRULY;
const ALL_2_CM = { upperArm: 0.02, forearm: 0.02, implement: 0.02 };

/** What each part of the method is worth, and what each fault costs. */
export function comparisonTrials(): Trial[] {
  const both = (
    name: string,
    change: Partial<SessionOptions>,
    params = DEFAULT_PARAMS,
    told: Partial<Told> = {},
  ): Trial[] =>
    STRATEGIES.map((strategy) => ({
      name,
      hasGoals: false,
      options: { ...BASE, strategy, ...change },
      params,
      told: { ...TOLD_TRULY, ...told },
    }));
  const toldWrong = (name: string, told: Partial<Told>, leverRefinement = true) =>
    both(name, {}, { ...DEFAULT_PARAMS, leverRefinement }, told);
  const withErrors = (change: Partial<SensorErrors>) => ({
    errors: { ...DEFAULT_ERRORS, ...change },
  });
  return [
    ...both('full-size racket', {}),
    ...both('100 Hz', { nominalRateHz: 100 }),
    ...both('400 Hz', { nominalRateHz: 400 }),
    ...both('perfect sensors', { errors: NO_ERRORS }),
    ...both('2 % of packets lost', withErrors({ lossFraction: 0.02 })),
    ...SEEDS.flatMap((seed) =>
      both('poses held 2 deg off', { seed, ...withErrors({ poseDeg: 2 }) }),
    ),
    ...both('sensors 2 cm off axis', withErrors({ offAxisM: 0.02 })),
    ...both('2 cm off axis, joints by tape', withErrors({ offAxisM: 0.02 }), {
      ...DEFAULT_PARAMS,
      leverRefinement: false,
    }),
    ...toldWrong('upper arm 2 cm too long', { lengthsOffM: { ...NOTHING, upperArm: 0.02 } }),
    ...toldWrong('forearm 2 cm too long', { lengthsOffM: { ...NOTHING, forearm: 0.02 } }),
    ...toldWrong('lever arms wrong by 2 cm', { sensorsOffM: ALL_2_CM }),
    ...toldWrong('lever arms wrong, joints by tape', { sensorsOffM: ALL_2_CM }, false),
    ...toldWrong('bench calibration', { benchCalibrated: true }),
    ...both('soft tissue 3 deg', withErrors({ wobbleDeg: 3 })),
    ...both('headings not agreed', {}, { ...DEFAULT_PARAMS, headingAgreement: false }),
    ...both('ahrs Madgwick', {}, { ...DEFAULT_PARAMS, filter: 'madgwick' }),
    ...both('ahrs Mahony', {}, { ...DEFAULT_PARAMS, filter: 'mahony' }),
  ];
}
