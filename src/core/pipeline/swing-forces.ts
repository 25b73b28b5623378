import { GRID_STEP_US, LONGEST_INTERPOLATION_S } from '../arm/arm-timeline.ts';
import type { JointLevers } from '../arm/chain-levers.ts';
import { jointForceInSensor } from '../arm/joint-acceleration.ts';
import { tickAt } from '../clocks/clock-map.ts';
import { norm, vector3 } from '../maths/vector.ts';
import {
  createReading,
  readTrack,
  SAMPLE_BEFORE_SHOCK,
  SAMPLE_IN_SHOCK,
} from '../orientation/sensor-track.ts';
import type { ArmClocks, ArmReadings, ArmTracks } from './arm-sensors.ts';

/** The swing before a contact that is looked at, microseconds. */
export const SWING_US = 600_000;
const INSTANTS = SWING_US / GRID_STEP_US;

/** Size of the specific force at one joint as the sensors above and below it find it, m/s^2, GRID_STEP_US apart. */
export interface JointForces {
  readonly aboveMS2: Float64Array;
  readonly belowMS2: Float64Array;
}

// Scratch memory.
const readings: ArmReadings = [createReading(), createReading(), createReading()];
const isMissing: [boolean, boolean, boolean] = [false, false, false];
const force = vector3();

/**
 * What both sensors of elbow and wrist find there over the swing before a contact, oldest first, up to the last instant
 * that feels nothing of a knock yet. Read from the tracks anew: between contacts nobody asks for it.
 * @param lagsUs how late each sensor's signals are, microseconds, shape (3) @param levers elbow, wrist
 * @param contactUs on the timeline
 * @returns elbow, wrist; NaN where samples of one of the joint's two sensors are missing or an earlier knock is felt
 */
export function swingForces(
  tracks: ArmTracks,
  clocks: ArmClocks,
  lagsUs: readonly [number, number, number],
  levers: readonly [JointLevers, JointLevers],
  contactUs: number,
): readonly [JointForces, JointForces] {
  const column = () => new Float64Array(INSTANTS).fill(Number.NaN);
  const columns = [column(), column(), column(), column()] as const;
  const counts: [number, number] = [0, 0];
  // the newest samples are the nearest
  const cursors: [number, number, number] = [tracks[0].count, tracks[1].count, tracks[2].count];
  for (let n = 0; n < INSTANTS; n++) {
    const atUs = contactUs - (INSTANTS - n) * GRID_STEP_US;
    readArm(tracks, clocks, lagsUs, atUs, cursors);
    if (readings.some(({ flags }) => (flags & (SAMPLE_IN_SHOCK | SAMPLE_BEFORE_SHOCK)) !== 0)) {
      continue;
    }
    for (const joint of [0, 1] as const) {
      if (isMissing[joint] || isMissing[joint + 1]) continue;
      const { aboveM, belowM } = levers[joint];
      columns[2 * joint]![n] = norm(jointForceInSensor(force, readings[joint], aboveM));
      columns[2 * joint + 1]![n] = norm(jointForceInSensor(force, readings[joint + 1]!, belowM));
      counts[joint] = n + 1;
    }
  }
  const forces = (joint: 0 | 1): JointForces => ({
    aboveMS2: columns[2 * joint]!.subarray(0, counts[joint]),
    belowMS2: columns[2 * joint + 1]!.subarray(0, counts[joint]),
  });
  return [forces(0), forces(1)];
}

/** All three sensors at one instant; one without samples right around it feels nothing. */
function readArm(
  tracks: ArmTracks,
  clocks: ArmClocks,
  lagsUs: readonly [number, number, number],
  atUs: number,
  cursors: [number, number, number],
): void {
  for (const k of [0, 1, 2] as const) {
    const clock = clocks[k];
    const reading = readings[k];
    const tick = tickAt(clock, atUs + lagsUs[k]);
    cursors[k] = readTrack(tracks[k], tick, clock.tickHz, cursors[k], reading);
    isMissing[k] = cursors[k] < 0 || reading.spacingS > LONGEST_INTERPOLATION_S;
    if (isMissing[k]) reading.flags = 0;
  }
}
