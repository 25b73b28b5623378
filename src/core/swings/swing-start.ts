import { type ArmTimeline, GRID_STEP_US, oldestInstant, slotOf } from '../arm/arm-timeline.ts';

/** The direction of the forward swing is that of the last 50 ms before contact. */
const AXIS_INSTANTS = Math.round(50_000 / GRID_STEP_US);
/** No forward swing takes longer, microseconds. */
const LONGEST_SWING_US = 1_200_000;
/** Where the implement never reverses: from this share of its fastest turning. */
const FALLBACK_SHARE = 0.1;

/**
 * Start of the forward swing (0 %): the last reversal of the implement's rotation before contact, that is
 * the last instant at which it did not turn in the direction of its final 50 ms; without a reversal, where
 * its speed last was below 10 % of the peak.
 * @param lastClean absolute number of the last instant before contact that no shock touches
 * @returns host time in microseconds, interpolated between instants, or null when there is neither, or when
 *   the implement did not turn forward all through its final 50 ms
 */
export function findSwingStart(timeline: ArmTimeline, lastClean: number): number | null {
  const oldest = Math.max(oldestInstant(timeline), lastClean - LONGEST_SWING_US / GRID_STEP_US);
  if (lastClean - AXIS_INSTANTS < oldest) return null;
  const axis = meanDirection(timeline, lastClean);
  let peak = speedAt(timeline, lastClean);
  let previous = along(timeline, lastClean, axis);
  if (previous <= 0) return null;
  for (let n = lastClean - 1; n >= oldest; n--) {
    const rate = along(timeline, n, axis);
    if (rate <= 0) {
      if (lastClean - n < AXIS_INSTANTS) return null;
      const u = previous / (previous - rate);
      return timeline.timeUs[slotOf(n + 1)]! - u * GRID_STEP_US;
    }
    peak = Math.max(peak, speedAt(timeline, n));
    previous = rate;
  }
  for (let n = lastClean; n >= oldest; n--) {
    if (speedAt(timeline, n) >= FALLBACK_SHARE * peak) continue;
    return lastClean - n < AXIS_INSTANTS ? null : timeline.timeUs[slotOf(n)]!;
  }
  return null;
}

function meanDirection(timeline: ArmTimeline, lastClean: number): Float64Array {
  const axis = new Float64Array(3);
  for (let n = lastClean - AXIS_INSTANTS + 1; n <= lastClean; n++) {
    for (let i = 0; i < 3; i++) axis[i] = axis[i]! + timeline.implementRate[3 * slotOf(n) + i]!;
  }
  const length = Math.hypot(axis[0]!, axis[1]!, axis[2]!);
  return axis.map((x) => (length > 0 ? x / length : 0));
}

function along(timeline: ArmTimeline, n: number, axis: Float64Array): number {
  const at = 3 * slotOf(n);
  const rate = timeline.implementRate;
  return rate[at]! * axis[0]! + rate[at + 1]! * axis[1]! + rate[at + 2]! * axis[2]!;
}

/** Speed of turning of the implement at an instant, rad/s. */
export function speedAt(timeline: ArmTimeline, n: number): number {
  const at = 3 * slotOf(n);
  const rate = timeline.implementRate;
  return Math.hypot(rate[at]!, rate[at + 1]!, rate[at + 2]!);
}
