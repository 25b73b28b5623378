import { rotate } from '../maths/quaternion.ts';
import { addScaled, cross, type Vector3, vector3 } from '../maths/vector.ts';
import type { TrackReading } from '../orientation/sensor-track.ts';

const lever = vector3();
const tangential = vector3();
const centripetal = vector3();

/**
 * Specific force at a joint centre as one of its two sensors feels it, in that sensor's earth frame:
 *   a_J = R ( f + w' x r + w x (w x r) ).
 * Gravity is left in: it is the same on both sides and only the horizontal part is compared.
 * @param out shape (3), m/s^2
 * @param longAxis unit, sensor frame, shape (3)
 * @param alongM from the sensor to the joint along the long axis, metres (negative: towards the shoulder)
 * Source: Seel, Schauer & Raisch 2012, doi 10.1109/CCA.2012.6402423, eq. 4.
 */
export function jointSpecificForce(
  out: Vector3,
  reading: TrackReading,
  longAxis: Vector3,
  alongM: number,
): Vector3 {
  for (let i = 0; i < 3; i++) lever[i] = alongM * longAxis[i]!;
  cross(tangential, reading.gyrRate, lever);
  cross(centripetal, reading.gyr, lever);
  cross(centripetal, reading.gyr, centripetal);
  addScaled(out, reading.acc, 1, tangential);
  addScaled(out, out, 1, centripetal);
  return rotate(out, reading.qEarthFromSensor, out);
}
