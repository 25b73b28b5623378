import { vector3 } from '../../src/core/maths/vector.ts';
import { addSample, createTrack } from '../../src/core/orientation/sensor-track.ts';
import type { SimulatedSensors } from '../../src/core/simulator/simulate-session.ts';
import { createStrokeDetector, detectStroke } from '../../src/core/swings/stroke-detector.ts';

/** A stroke that the production detector found, true time in seconds. */
export interface FoundStroke {
  readonly atS: number;
  readonly isAir: boolean;
}

/** Strokes in the int16 samples of a simulated implement sensor: no radio, no other sensor. */
export function strokesOfImplement({ hardware }: SimulatedSensors): FoundStroke[] {
  const { info, packets } = hardware[2];
  const track = createTrack('vqf', 1 / info.rateHz);
  const detector = createStrokeDetector();
  const found: FoundStroke[] = [];
  const gyr = vector3();
  const acc = vector3();
  let lastTick = Number.NaN;
  for (let made = packets.next(); made.done !== true; made = packets.next()) {
    const { madeUs, packet } = made.value;
    const count = packet.samples.length / 6;
    const stepUs = packet.spanTicks / (count - 1);
    for (let n = 0; n < count; n++) {
      for (let i = 0; i < 3; i++) {
        gyr[i] = packet.samples[6 * n + i]! * info.gyroScaleRadS;
        acc[i] = packet.samples[6 * n + 3 + i]! * info.accelScaleMS2;
      }
      // ticks are microseconds but for the crystal's 40 ppm, which a packet does not feel
      const tick = madeUs - (count - 1 - n) * stepUs;
      const dtS = Number.isNaN(lastTick) ? 1 / info.rateHz : (tick - lastTick) / 1e6;
      const knocked = addSample(track, tick, dtS, gyr, acc, false, false);
      const stroke = detectStroke(detector, track, knocked, dtS);
      if (stroke !== null) found.push({ atS: stroke.tick / 1e6, isAir: stroke.isAir });
      lastTick = tick;
    }
  }
  return found;
}
