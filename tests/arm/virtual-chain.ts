import type { Random } from '../../src/core/maths/random.ts';
import { addScaled, cross, norm, type Vector3, vector3 } from '../../src/core/maths/vector.ts';
import { createReading, type TrackReading } from '../../src/core/orientation/sensor-track.ts';

/** From each sensor to its joints, sensor frame, metres. */
export interface TrueLevers {
  readonly upperToElbow: Vector3;
  readonly foreToElbow: Vector3;
  readonly foreToWrist: Vector3;
  readonly handToWrist: Vector3;
}

const randomVector = (random: Random, sd: number) =>
  vector3(random.normal(sd), random.normal(sd), random.normal(sd));

/** w' x r + w x (w x r): acceleration of a point of a rigid body against the sensor, sensor frame. */
function sweep(reading: TrackReading, lever: Vector3): Vector3 {
  const centripetal = cross(vector3(), reading.gyr, cross(vector3(), reading.gyr, lever));
  return addScaled(centripetal, centripetal, 1, cross(vector3(), reading.gyrRate, lever));
}

/** A sensor that finds `force` at `lever`, turning at random. */
function sensorWith(random: Random, force: Vector3, lever: Vector3): TrackReading {
  const reading = createReading();
  reading.gyr.set(randomVector(random, 6));
  reading.gyrRate.set(randomVector(random, 60));
  addScaled(reading.acc, force, -1, sweep(reading, lever));
  addScaled(reading.acc, reading.acc, 1, randomVector(random, 0.15));
  return reading;
}

/**
 * One instant of three rigid segments joined at elbow and wrist, all sensors' axes along those of the earth
 * just then, so that both sides of a joint feel the same vector: the rigid-body formula the other way round.
 */
export function chainReadings(random: Random, levers: TrueLevers): TrackReading[] {
  const elbow = randomVector(random, 15);
  const upper = sensorWith(random, elbow, levers.upperToElbow);
  const fore = sensorWith(random, elbow, levers.foreToElbow);
  const wrist = addScaled(vector3(), fore.acc, 1, sweep(fore, levers.foreToWrist));
  const hand = sensorWith(random, wrist, levers.handToWrist);
  return [upper, fore, hand];
}

/** Turned about an axis through the sensor by an angle, rad. Rodrigues' formula. */
export function turned(v: Vector3, axis: Vector3, angle: number): Vector3 {
  const k = axis.map((x) => x / norm(axis));
  const along = k[0]! * v[0]! + k[1]! * v[1]! + k[2]! * v[2]!;
  const out = v.map((x) => x * Math.cos(angle));
  addScaled(out, out, Math.sin(angle), cross(vector3(), k, v));
  return addScaled(out, out, along * (1 - Math.cos(angle)), k);
}
