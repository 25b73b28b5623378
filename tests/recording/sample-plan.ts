import type { SetPlan } from '../../src/core/recording/set-plan.ts';
import { sampleDescription } from './sample-set.ts';

/** An invented plan of `sampleDescription`: its kit and another one, there and back. */
export const samplePlan: SetPlan = {
  task: 'Forehand drive behind the line',
  target: { widthM: 1.5, depthM: 1, stepM: 0.5 },
  conditions: [
    {
      implement: sampleDescription.implement,
      ball: sampleDescription.ball,
      feed: '',
      implementLengthM: sampleDescription.lengthsM.implement,
      implementSensorFromWristM: sampleDescription.sensorFromJointM.implement,
      sweetSpotBand: sampleDescription.sweetSpotBand,
    },
    {
      implement: 'long racket',
      ball: 'standard',
      feed: 'from the hand',
      implementLengthM: 0.65,
      implementSensorFromWristM: 0.12,
      sweetSpotBand: null,
    },
  ],
  blocks: [0, 1, 1, 0],
  order: 'mirrored',
  orderSeed: null,
  swingsPerBlock: 10,
  feedback: { cue: 'tone', isOnlyOffBand: true, isFading: false },
  cautionsConfirmedAtMs: 1_700_000_000_000,
};
