import { slotOf } from '../core/arm/arm-timeline.ts';
import { SEGMENTS } from '../core/arm/segments.ts';
import { conjugate, multiply, type Quaternion, quaternion } from '../core/maths/quaternion.ts';
import { createPipeline, stepPipeline } from '../core/pipeline/pipeline.ts';
import type { Recording } from './read-recording.ts';
import type { ReferenceOrientation } from './reference-orientation.ts';
import { relativeError } from './relative-error.ts';

/** Every this many instants of the 200 Hz timeline one is compared: 20 per second. */
const EVERY = 10;
/** Relative orientation of neighbouring segments at one instant, ours against the reference's. */
export interface Comparison {
  readonly timeS: number;
  /** Angle between our relative orientation and the reference's, rad: elbow, wrist. */
  readonly angle: readonly [number, number];
  /** The turn about the vertical between the two, rad: the reference's sensors may each have their own north. */
  readonly heading: readonly [number, number];
  /** What is left when that turn is taken off at every instant: inclination alone. */
  readonly tilt: readonly [number, number];
}

/**
 * Runs a recording through the pipeline and compares it, from the first pose on, with someone else's
 * orientation of the same sensors.
 */
export function compareRelativeOrientation(
  recording: Pick<Recording, 'description' | 'records'>,
  reference: ReferenceOrientation,
): Comparison[] {
  const state = createPipeline(recording.description);
  const comparisons: Comparison[] = [];
  let next = 0;
  for (const record of recording.records) {
    stepPipeline(state, record);
    const { timeline, elbow, wrist, mounting } = state.arm;
    for (; next < timeline.count; next += EVERY) {
      if (mounting === null) continue;
      const slot = slotOf(next);
      const q = SEGMENTS.map((_, k) => timeline.q.slice(12 * slot + 4 * k, 12 * slot + 4 * k + 4));
      const delta = [elbow.deltaRad, wrist.deltaRad] as const;
      const found = compareAt(reference, timeline.timeUs[slot]!, q, delta);
      if (found !== null) comparisons.push(found);
    }
  }
  return comparisons;
}

function compareAt(
  reference: ReferenceOrientation,
  timeUs: number,
  q: readonly Quaternion[],
  delta: readonly [number, number],
): Comparison | null {
  const theirs = SEGMENTS.map((_, k) => reference.at(k, timeUs));
  if (theirs.some((orientation) => orientation === null)) return null;
  const joint = (i: number) => {
    const turn = quaternion(Math.cos(delta[i]! / 2), 0, 0, Math.sin(delta[i]! / 2));
    const ours = relative(q[i]!, multiply(quaternion(), turn, q[i + 1]!));
    return relativeError(q[i]!, ours, relative(theirs[i]!, theirs[i + 1]!));
  };
  const [elbow, wrist] = [joint(0), joint(1)];
  return {
    timeS: timeUs / 1e6,
    angle: [elbow.angle, wrist.angle],
    heading: [elbow.heading, wrist.heading],
    tilt: [elbow.tilt, wrist.tilt],
  };
}

function relative(qi: Quaternion, qj: Quaternion): Quaternion {
  return multiply(quaternion(), conjugate(quaternion(), qi), qj);
}
