import { GRID_STEP_US } from '../arm/arm-timeline.ts';
import { hostTimeUs, tickAt } from '../clocks/clock-map.ts';
import { type SensorTrack, slotOfSample } from '../orientation/sensor-track.ts';
import type { ArmClocks, ArmTracks } from './arm-sensors.ts';
import type { ArmState } from './arm-state.ts';

/**
 * Leaps over a silence of all sensors; to be called once the timeline holds nothing else any more. An hour's pause, or
 * one absurd time in a damaged file, would otherwise cost seconds to minutes of walking through nothing.
 * @param givenUpUs host time up to which sensor k is not waited for any more
 */
export function leapOverSilence(
  arm: ArmState,
  tracks: ArmTracks,
  clocks: ArmClocks,
  givenUpUs: (k: number) => number,
): void {
  const { nextUs } = arm.timeline;
  const heardUs = ([0, 1, 2] as const).map((k) => {
    const lagUs = arm.lags.appliedUs[k];
    const next = nextTick(tracks[k]!, tickAt(clocks[k], nextUs + lagUs), arm.cursors[k]);
    return next === null ? givenUpUs(k) : hostTimeUs(clocks[k], next) - lagUs;
  });
  const resumeUs = GRID_STEP_US * Math.floor(Math.min(...heardUs) / GRID_STEP_US);
  if (resumeUs > nextUs) arm.timeline.nextUs = resumeUs;
}

/** Tick of the first sample after `tick`; null when there is none yet. @param from a sample not after it */
function nextTick(track: SensorTrack, tick: number, from: number): number | null {
  for (let n = Math.max(1, from); n < track.count; n++) {
    const next = track.tick[slotOfSample(n)]!;
    if (next > tick) return next;
  }
  return null;
}
