import type { ArmTimeline } from '../arm/arm-timeline.ts';
import type { SensorTrack } from '../orientation/sensor-track.ts';
import type { PipelineState } from './pipeline.ts';
import type { SensorIntake } from './sensor-intake.ts';

/**
 * What is left of a pipeline once its set is over: all that review, measures and later events ask for, without the
 * memory of recent samples. The same numbers come from it bit for bit, but it takes no more samples.
 * @returns shares everything else with `state`
 * Checked: tests/pipeline/finished-state.test.ts
 */
export function finishedState(state: PipelineState): PipelineState {
  const [upper, fore, implement] = state.intakes;
  return {
    ...state,
    intakes: [withoutTrack(upper), withoutTrack(fore), withoutTrack(implement)],
    arm: { ...state.arm, timeline: withoutColumns(state.arm.timeline) },
  };
}

function withoutTrack(intake: SensorIntake): SensorIntake {
  return { ...intake, track: intake.track === null ? null : emptied<SensorTrack>(intake.track) };
}

function withoutColumns(timeline: ArmTimeline): ArmTimeline {
  return emptied(timeline);
}

/** Numbers stay, columns lose their rows. */
function emptied<T extends object>(columns: T): T {
  const entries = Object.entries(columns).map(([name, value]: [string, unknown]) => {
    if (value instanceof Float64Array) return [name, new Float64Array(0)];
    return [name, value instanceof Uint8Array ? new Uint8Array(0) : value];
  });
  return Object.fromEntries(entries) as T;
}
