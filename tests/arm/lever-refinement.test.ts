import { describe, expect, it } from 'vitest';
import { jointForceInSensor } from '../../src/core/arm/joint-acceleration.ts';
import {
  addLeverEvidence,
  createLeverRefinement,
  type LeverRefinement,
  updateLevers,
} from '../../src/core/arm/lever-refinement.ts';
import { type Random, seededRandom } from '../../src/core/maths/random.ts';
import { addScaled, cross, norm, type Vector3, vector3 } from '../../src/core/maths/vector.ts';
import { createReading, type TrackReading } from '../../src/core/orientation/sensor-track.ts';

const ABOVE = vector3(0.1, 0.01, -0.015);
const BELOW = vector3(-0.14, 0.012, 0.02);
const TAPED = { aboveM: vector3(0.12, 0, 0), belowM: vector3(-0.12, 0, 0) };

const randomVector = (random: Random, sd: number) =>
  vector3(random.normal(sd), random.normal(sd), random.normal(sd));

/**
 * What a sensor reads when the joint, `lever` away from it, has the specific force `force` (sensor frame): the
 * rigid-body formula the other way round, f = a_J - w' x r - w x (w x r).
 */
function sensorAt(
  lever: Vector3,
  force: Vector3,
  random: Random,
  accelNoise: number,
): TrackReading {
  const reading = createReading();
  reading.gyr.set(randomVector(random, 6));
  reading.gyrRate.set(randomVector(random, 60));
  const centripetal = cross(vector3(), reading.gyr, cross(vector3(), reading.gyr, lever));
  addScaled(reading.acc, force, -1, centripetal);
  addScaled(reading.acc, reading.acc, -1, cross(vector3(), reading.gyrRate, lever));
  addScaled(reading.acc, reading.acc, 1, randomVector(random, accelNoise));
  return reading;
}

function addEvidence(state: LeverRefinement, above: TrackReading, below: TrackReading): void {
  const forceAbove = jointForceInSensor(vector3(), above, state.aboveM);
  addLeverEvidence(
    state,
    above,
    below,
    forceAbove,
    jointForceInSensor(vector3(), below, state.belowM),
  );
}

/** Swings of 120 instants: the two sensors feel forces of one size in unrelated frames. */
function swing(
  state: LeverRefinement,
  random: Random,
  above: Vector3,
  below: Vector3,
  noise: number,
) {
  for (let n = 0; n < 120; n++) {
    const size = random.uniform(5, 40);
    const way = () => {
      const v = randomVector(random, 1);
      return v.map((x) => (x * size) / norm(v));
    };
    const readings = [sensorAt(above, way(), random, noise), sensorAt(below, way(), random, noise)];
    addEvidence(state, readings[0]!, readings[1]!);
  }
  updateLevers(state);
}

const errorOf = (state: LeverRefinement) =>
  Math.max(
    norm(addScaled(vector3(), state.aboveM, -1, ABOVE)),
    norm(addScaled(vector3(), state.belowM, -1, BELOW)),
  );

describe('lever refinement', () => {
  it('finds both joints from a tape that is 3 cm off, without knowing any heading', () => {
    for (let seed = 1; seed <= 5; seed++) {
      const random = seededRandom(seed);
      const state = createLeverRefinement(TAPED);
      expect(errorOf(state)).toBeGreaterThan(0.025);
      for (let i = 0; i < 40; i++) swing(state, random, ABOVE, BELOW, 0.2);
      // 0.2 m/s^2 of noise over w^2 = 100 is 2 mm for one instant; 40 swings and the tape's pull leave less than 3.
      expect(errorOf(state)).toBeLessThan(0.003);
    }
  });

  it('stays with the tape while nothing turns', () => {
    const state = createLeverRefinement(TAPED);
    const [above, below] = [createReading(), createReading()];
    above.acc.set([0, 0, 12]);
    below.acc.set([0, 0, 9]);
    for (let n = 0; n < 1000; n++) addEvidence(state, above, below);
    updateLevers(state);
    expect(Array.from(state.aboveM)).toEqual([0.12, 0, 0]);
    expect(Array.from(state.belowM)).toEqual([-0.12, 0, 0]);
  });

  it('goes back to the tape when the joint would lie where none can be', () => {
    const random = seededRandom(3);
    const state = createLeverRefinement(TAPED);
    const far = vector3(0.35, 0.1, 0);
    for (let i = 0; i < 3; i++) swing(state, random, far, BELOW, 0.2);
    expect(norm(addScaled(vector3(), state.aboveM, -1, vector3(0.12, 0, 0)))).toBeLessThan(0.06);
  });
});
