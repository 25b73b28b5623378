import {
  appendInstant,
  GRID_CAPACITY,
  GRID_CLIPPED,
  GRID_GAP,
  GRID_IN_SHOCK,
  GRID_INTERPOLATED,
  GRID_STEP_US,
  LONGEST_INTERPOLATION_S,
  slotOf,
} from '../arm/arm-timeline.ts';
import { forgetTurn } from '../arm/heading-agreement.ts';
import { forgetMotion, removeMotionTilt } from '../arm/motion-tilt.ts';
import { type ClockMap, hostTimeUs, tickAt } from '../clocks/clock-map.ts';
import { rotate } from '../maths/quaternion.ts';
import { norm, vector3 } from '../maths/vector.ts';
import {
  BEYOND_TRACK,
  createReading,
  LONGEST_BRIDGE_S,
  readTrack,
  SAMPLE_CLIPPED,
  SAMPLE_IN_SHOCK,
  type SensorTrack,
  TRACK_CAPACITY,
} from '../orientation/sensor-track.ts';
import type { ArmClocks, ArmReadings, ArmTracks } from './arm-sensors.ts';
import type { ArmState } from './arm-state.ts';
import { EVIDENCE_EVERY } from './fit-watch.ts';
import { followGyroTilts, turnsFast } from './gyro-tilts.ts';
import { agreeHeadings } from './headings.ts';
import { stepShake, updateLags } from './lag-alignment.ts';
import type { PipelineParams } from './params.ts';
import { longestWaitS, type SensorIntake } from './sensor-intake.ts';
import { leapOverSilence } from './silence.ts';
import { detectPoses } from './zeroing.ts';

/**
 * A silent sensor no longer holds up the others after this long, microseconds; one that can send again what
 * was lost while its link was down is waited for as long as its ring lasts.
 */
const SILENCE_US = 1e6;
/** An orientation that begins anew has its inclination after this: twice the filter's time constant. */
const SETTLING_US = 6e6;
/** Bridging two lost packets or more in a swing turns an orientation by degrees. */
const SPOILING_INSTANTS = 75_000 / GRID_STEP_US;
/** And a sensor that turned further than this unseen has lost its orientation. */
const LONGEST_BRIDGED_TURN_RAD = 0.3;

// Scratch memory: never carries anything from one instant to the next.
const readings: ArmReadings = [createReading(), createReading(), createReading()];
const gyrs = readings.map((r) => r.gyr);
const orientations = readings.map((r) => r.qEarthFromSensor);
/** The lags change with the clocks, slowly: four times a second is enough, instants. */
const LAGS_EVERY = 50;
const implementRate = vector3();
const turnRad: [number, number] = [0, 0];
const isMissing: [boolean, boolean, boolean] = [false, false, false];

/**
 * Advances the timeline as far as all three sensors reach.
 * @param onInstant called after each instant
 */
export function advanceArm(
  arm: ArmState,
  intakes: readonly SensorIntake[],
  params: PipelineParams,
  onInstant: () => void,
): void {
  const [u, f, m] = intakes;
  if (!u?.clock || !f?.clock || !m?.clock || !u.track || !f.track || !m.track) return;
  const clocks: ArmClocks = [u.clock, f.clock, m.clock];
  const tracks: ArmTracks = [u.track, f.track, m.track];
  if (Number.isNaN(arm.timeline.nextUs)) {
    if (tracks.some((track) => track.count < 4)) return;
    const firstUs = Math.max(...tracks.map((track, k) => oldestUs(track, clocks[k]!)));
    arm.timeline.nextUs = Math.ceil(firstUs / GRID_STEP_US) * GRID_STEP_US;
  }
  for (;;) {
    if (arm.timeline.count % LAGS_EVERY === 0) updateLags(arm.lags, clocks);
    if (arm.silentInstants >= GRID_CAPACITY) {
      leapOverSilence(arm, tracks, clocks, (k) => givenUpUs(intakes, k));
    }
    const flags = readInstant(arm, tracks, clocks, intakes);
    if (flags === null) return;
    const isSilent = isMissing[0] && isMissing[1] && isMissing[2];
    arm.silentInstants = isSilent ? arm.silentInstants + 1 : 0;
    if (params.filter === 'vqf') uprightReadings(arm);
    rotate(implementRate, readings[2].qEarthFromSensor, readings[2].gyr);
    appendInstant(arm.timeline, orientations, gyrs, implementRate, flags);
    if (arm.timeline.count % EVIDENCE_EVERY === 0 || turnsFast(arm)) followGyroTilts(arm);
    watchGaps(arm);
    agreeHeadings(arm, readings, isMissing, params, flags);
    detectPoses(arm, readings, flags);
    stepShake(arm.lags, clocks, tracks, flags, arm.timeline.nextUs);
    onInstant();
  }
}

/**
 * Takes what the swing itself did to the vertical off the orientations just read, with the joints where the tape has
 * them: refined levers change during a set, and with them the vertical would, which looks like a sensor that slips.
 */
function uprightReadings(arm: ArmState): void {
  const { motion, elbow, wrist } = arm;
  turnRad[0] = elbow.deltaRad;
  turnRad[1] = wrist.deltaRad;
  const levers = arm.zero.phase === 'zeroed' ? arm.taped : null;
  removeMotionTilt(motion, readings, isMissing, levers, turnRad);
}

/**
 * After a long gap, or one in fast motion, a sensor's orientation begins anew, and with it the turns between its earth frame and the
 * others'; that of the upper arm carries the court's heading.
 */
function watchGaps(arm: ArmState): void {
  for (let i = 0; i < 3; i++) {
    const k = i as 0 | 1 | 2;
    if (isMissing[k]) {
      arm.missingInstants[k]++;
      if (arm.missingInstants[k] > SPOILING_INSTANTS) {
        arm.fit.trustedUs = arm.timeline.nextUs + SETTLING_US;
      }
      continue;
    }
    if (arm.missingInstants[k] > 0 && isOrientationLost(arm, k)) {
      if (k < 2) forgetTurn(arm.elbow);
      if (k > 0) forgetTurn(arm.wrist);
      if (k === 0) arm.courtHeadingKnown = false;
      forgetMotion(arm.motion, k);
      arm.gyroTilts[k].fill(0);
      arm.settledUs = arm.timeline.nextUs + SETTLING_US;
    }
    arm.missingInstants[k] = 0;
  }
}

/** Whether the sensor just back from a gap turned too far, or nobody knows how far, while it was missing. */
function isOrientationLost({ missingInstants, timeline }: ArmState, k: 0 | 1 | 2): boolean {
  const missing = missingInstants[k];
  const gapS = missing * GRID_STEP_US * 1e-6;
  if (gapS > LONGEST_BRIDGE_S) return true;
  if (missing <= SPOILING_INSTANTS) return false;
  const before = 3 * slotOf(timeline.count - 2 - missing) + k;
  const rate = Math.max(norm(readings[k].gyr), timeline.turnRateRadS[before]!);
  return rate * gapS > LONGEST_BRIDGED_TURN_RAD;
}

function oldestUs(track: SensorTrack, clock: ClockMap): number {
  const oldest = Math.max(2, track.count - TRACK_CAPACITY + 2);
  return hostTimeUs(clock, track.tick[oldest & (TRACK_CAPACITY - 1)]!);
}

/** Host time up to which sensor k is not waited for any more. */
function givenUpUs(intakes: readonly SensorIntake[], k: number): number {
  const [u, f, m] = intakes;
  const newestUs = Math.max(u!.lastArrivalUs, f!.lastArrivalUs, m!.lastArrivalUs);
  const { info } = intakes[k]!;
  return newestUs - SILENCE_US - (info === null ? 0 : longestWaitS(info) * 1e6);
}

/** Reads all sensors at the next instant; null while one may still deliver it. */
function readInstant(
  arm: ArmState,
  tracks: ArmTracks,
  clocks: ArmClocks,
  intakes: readonly SensorIntake[],
): number | null {
  const { nextUs } = arm.timeline;
  let flags = 0;
  for (let i = 0; i < 3; i++) {
    const k = i as 0 | 1 | 2;
    const clock = clocks[k];
    const reading = readings[k]!;
    const from = readTrack(
      tracks[k]!,
      tickAt(clock, nextUs + arm.lags.appliedUs[k]!),
      clock.tickHz,
      arm.cursors[k],
      reading,
    );
    isMissing[k] = from < 0 || reading.spacingS > LONGEST_INTERPOLATION_S;
    if (isMissing[k]) flags |= GRID_GAP;
    if (from < 0) {
      if (from === BEYOND_TRACK && nextUs > givenUpUs(intakes, k)) return null;
      continue;
    }
    arm.cursors[k] = from;
    if ((reading.flags & SAMPLE_CLIPPED) !== 0) flags |= GRID_CLIPPED;
    if ((reading.flags & SAMPLE_IN_SHOCK) !== 0) flags |= GRID_IN_SHOCK;
    if (!isMissing[k] && reading.spacingS > 1.5 * tracks[k]!.intervalS) {
      flags |= GRID_INTERPOLATED;
    }
  }
  return flags;
}
