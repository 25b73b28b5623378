import { describe, expect, it } from 'vitest';
import type { Mounting } from '../../src/core/arm/mounting.ts';
import { createSlipWatch, slipProblem, watchSlip } from '../../src/core/arm/slip-watch.ts';
import { addTiltEvidence, createTiltEvidence } from '../../src/core/arm/tilt-evidence.ts';
import { RAD_PER_DEG } from '../../src/core/maths/angles.ts';
import { quaternion } from '../../src/core/maths/quaternion.ts';
import { type Random, seededRandom } from '../../src/core/maths/random.ts';
import { type Vector3, vector3 } from '../../src/core/maths/vector.ts';
import { chainReadings, type TrueLevers, turned } from './virtual-chain.ts';

// Sensors along their segments; the tape is 1 to 2 cm off, as tapes are.
const TAPED = [
  { aboveM: vector3(0.1), belowM: vector3(-0.14) },
  { aboveM: vector3(0.06), belowM: vector3(-0.13) },
];
const TRUE_LEVERS: TrueLevers = {
  upperToElbow: vector3(0.11, 0.015, -0.01),
  foreToElbow: vector3(-0.13, 0.01, 0.01),
  foreToWrist: vector3(0.07, 0.01, 0.01),
  handToWrist: vector3(-0.14, -0.01, 0.015),
};
const SQUARE: Mounting = {
  longAxis: [vector3(1, 0, 0), vector3(1, 0, 0), vector3(1, 0, 0)],
  qSegmentFromSensor: [quaternion(), quaternion(), quaternion()],
};

/** After a sensor turned on its segment, its joints lie elsewhere as seen from it. */
function slipped(sensor: number, axis: Vector3, angleDeg: number): TrueLevers {
  const turn = (lever: Vector3) => turned(lever, axis, angleDeg * RAD_PER_DEG);
  const levers = { ...TRUE_LEVERS };
  if (sensor === 0) levers.upperToElbow = turn(levers.upperToElbow);
  if (sensor === 1) levers.foreToElbow = turn(levers.foreToElbow);
  if (sensor === 1) levers.foreToWrist = turn(levers.foreToWrist);
  if (sensor === 2) levers.handToWrist = turn(levers.handToWrist);
  return levers;
}

/** A swing of 0.3 s, 50 looks a second, unless said. @param headingsRad how wrong they are at elbow and wrist */
function evidenceOf(random: Random, levers: TrueLevers, looks = 15, headingsRad = [0, 0]) {
  const evidence = createTiltEvidence();
  for (let n = 0; n < looks; n++) {
    const readings = chainReadings(random, levers);
    for (const joint of [0, 1] as const) {
      addTiltEvidence(evidence, joint, readings, TAPED[joint]!, SQUARE, headingsRad[joint]!);
    }
  }
  return evidence;
}

/** Verdicts over 20 swings as on tape and up to 12 more with the levers given. */
function verdicts(later: TrueLevers) {
  const random = seededRandom(3);
  const watch = createSlipWatch();
  const found = [];
  for (let swing = 0; swing < 32; swing++) {
    found.push(watchSlip(watch, evidenceOf(random, swing < 20 ? TRUE_LEVERS : later)));
  }
  return found;
}

describe('watchSlip', () => {
  it('leaves a set with a poor tape alone', () => {
    for (const verdict of verdicts(TRUE_LEVERS)) {
      expect(verdict).toEqual({ isDisturbed: false, sensors: [], swings: 0 });
    }
  });

  // Three instants hardly tell a heading that is wrong from a sensor that is: what is known of headings beforehand
  // must keep such swings from adding up to a slip. 6 degrees SD is how well they are agreed.
  it.each([3, 4, 5, 6])('blames no sensor for headings in swings hardly seen (seed %i)', (seed) => {
    const random = seededRandom(seed);
    const watch = createSlipWatch();
    const heading = () => random.normal(6 * RAD_PER_DEG);
    for (let swing = 0; swing < 32; swing++) {
      const evidence = evidenceOf(random, TRUE_LEVERS, 3, [heading(), heading()]);
      expect(watchSlip(watch, evidence).sensors).toEqual([]);
    }
  });

  const ACROSS = [vector3(0, 1, 0), vector3(0, 0, 1), vector3(0, 1, -1)];
  it.each([0, 1, 2])(
    'names sensor %i when it tilts by 20 degrees, within four swings',
    (sensor) => {
      for (const axis of ACROSS) {
        const found = verdicts(slipped(sensor, axis, 20));
        const first = found.findIndex((verdict) => verdict.sensors.length > 0);
        expect(first).toBeGreaterThanOrEqual(20);
        expect(first).toBeLessThan(24);
        expect(found[first]!.sensors).toEqual([sensor]);
        // every swing since the slip is in doubt, and at most two from before
        expect(found[first]!.swings).toBeGreaterThanOrEqual(first - 19);
        expect(found[first]!.swings).toBeLessThanOrEqual(first - 17);
      }
    },
  );

  it.each([0, 1, 2])('does not mind sensor %i turning about its segment', (sensor) => {
    // only the 1 to 2 cm by which a joint lies off the sensor's axis move along
    const found = verdicts(slipped(sensor, vector3(1, 0, 0), 20));
    expect(found.flatMap((verdict) => verdict.sensors)).toEqual([]);
  });

  it('says which sensor and what to do', () => {
    expect(slipProblem([1])).toMatch(/^The forearm sensor .*slipped.*Fasten .*both poses again/);
    expect(slipProblem([0, 1])).toMatch(/^The upper arm or the forearm sensor/);
  });
});
