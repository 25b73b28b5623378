import { rotate } from '../maths/quaternion.ts';
import { addScaled, cross, type Vector3, vector3 } from '../maths/vector.ts';
import type { TrackReading } from '../orientation/sensor-track.ts';

const tangential = vector3();
const centripetal = vector3();

/**
 * Acceleration of a point of the segment against its sensor: w' x r + w x (w x r), sensor frame.
 * @param out shape (3), m/s^2 @param leverM from the sensor to the point, sensor frame, metres, shape (3)
 * Source: Seel, Schauer & Raisch 2012, doi 10.1109/CCA.2012.6402423, eq. 4.
 */
export function leverAcceleration(out: Vector3, reading: TrackReading, leverM: Vector3): Vector3 {
  cross(tangential, reading.gyrRate, leverM);
  cross(centripetal, reading.gyr, leverM);
  cross(centripetal, reading.gyr, centripetal);
  return addScaled(out, tangential, 1, centripetal);
}

/**
 * Specific force at a joint centre as one of its two sensors feels it:
 *   a_J = f + w' x r + w x (w x r),  sensor frame, gravity left in.
 * @param out shape (3), m/s^2
 * @param leverM from the sensor to the joint centre, sensor frame, metres, shape (3)
 * Source: Seel, Schauer & Raisch 2012, doi 10.1109/CCA.2012.6402423, eq. 4.
 */
export function jointForceInSensor(out: Vector3, reading: TrackReading, leverM: Vector3): Vector3 {
  leverAcceleration(out, reading, leverM);
  return addScaled(out, out, 1, reading.acc);
}

/**
 * As {@link jointForceInSensor}, in the sensor's earth frame. Gravity is the same on both sides of a joint and
 * only the horizontal part is compared.
 */
export function jointSpecificForce(out: Vector3, reading: TrackReading, leverM: Vector3): Vector3 {
  return rotate(out, reading.qEarthFromSensor, jointForceInSensor(out, reading, leverM));
}
