import { describe, expect, it } from 'vitest';
import { SEGMENTS } from '../../src/core/arm/segments.ts';
import { fromRotationVector, quaternion, rotateInverse } from '../../src/core/maths/quaternion.ts';
import { vector3 } from '../../src/core/maths/vector.ts';
import { encodeSensorInfo } from '../../src/core/packets/sensor-info.ts';
import { encodeStreamPacket } from '../../src/core/packets/stream-packet.ts';
import type { ZeroState } from '../../src/core/pipeline/outputs.ts';
import { createPipeline, stepPipeline } from '../../src/core/pipeline/pipeline.ts';
import { sampleDescription } from '../recording/sample-set.ts';

const G = 9.80665;
const SCALE = 0.005;
const RATE_HZ = 200;

/** Dip of the whole arm below level, degrees, for so many seconds. */
type Pose = readonly [dipDeg: number, seconds: number];

/**
 * Zero states told while an arm with sensors mounted square goes through poses, turning steadily for half a
 * second between them. Built from statics alone: gravity in each sensor, and the rate of the turn.
 */
function zeroStates(poses: readonly Pose[], askAtS: number): ZeroState[] {
  const state = createPipeline(sampleDescription);
  const told: ZeroState[] = [];
  const step = (record: Parameters<typeof stepPipeline>[1]) => {
    for (const out of stepPipeline(state, record)) if (out.kind === 'zero') told.push(out.zero);
  };
  for (const segment of SEGMENTS) {
    const bytes = encodeSensorInfo({
      protocolVersion: 1,
      serial: `000000000000000${SEGMENTS.indexOf(segment)}`,
      firmwareVersion: '1.0.0',
      tickHz: 1_000_000,
      rateHz: RATE_HZ,
      supportedRatesHz: [RATE_HZ],
      gyroRangeDegS: 2000,
      accelRangeG: 16,
      gyroScaleRadS: Math.fround(SCALE / 5),
      accelScaleMS2: Math.fround(SCALE),
      resendPackets: 0,
      magnetometerScaleT: null,
    });
    step({ kind: 'sensor-info', segment, hostTimeUs: 0, bytes });
  }
  const dips: number[] = [];
  for (const [i, [dipDeg, seconds]] of poses.entries()) {
    const from = poses[i - 1]?.[0] ?? dipDeg;
    for (let n = 0; n < 0.5 * RATE_HZ && i > 0; n++) dips.push(from + ((dipDeg - from) * n) / 100);
    for (let n = 0; n < seconds * RATE_HZ; n++) dips.push(dipDeg);
  }
  let asked = false;
  for (let first = 0; first + 10 <= dips.length; first += 10) {
    const hostTimeUs = ((first + 9) / RATE_HZ) * 1e6;
    if (!asked && hostTimeUs >= askAtS * 1e6) {
      step({ kind: 'event', hostTimeUs, event: { type: 'zero-requested' } });
      asked = true;
    }
    const samples = Int16Array.from(
      Array.from({ length: 10 }, (_, n) => sampleAt(dips, first + n)).flat(),
    );
    for (const segment of SEGMENTS) {
      const bytes = encodeStreamPacket({
        clipped: false,
        dropped: false,
        resent: false,
        sequence: first / 10,
        firstTick: first * (1e6 / RATE_HZ),
        spanTicks: (9 / RATE_HZ) * 1e6,
        samples,
        magnetometer: null,
      });
      step({ kind: 'notification', segment, hostTimeUs, bytes });
    }
  }
  return told;
}

function sampleAt(dips: readonly number[], n: number): number[] {
  const dipRad = (dips[n]! * Math.PI) / 180;
  const before = ((dips[n - 1] ?? dips[n]!) * Math.PI) / 180;
  const q = fromRotationVector(quaternion(), 0, dipRad, 0);
  const gravity = rotateInverse(vector3(), q, vector3(0, 0, G));
  const rate = (dipRad - before) * RATE_HZ;
  return [0, (rate / SCALE) * 5, 0, ...[...gravity].map((a) => a / SCALE)].map(Math.round);
}

const phases = (states: readonly ZeroState[]) => states.map((state) => state.phase);

describe('zeroing by poses', () => {
  it('takes hanging, then level', () => {
    const told = zeroStates(
      [
        [90, 4],
        [0, 4],
      ],
      0.5,
    );
    expect(phases(told)).toEqual(['plumb', 'point', 'zeroed']);
  });

  it('takes a level hold after a poor one in nearly the same place', () => {
    const told = zeroStates(
      [
        [90, 4],
        [20, 3],
        [2, 4],
      ],
      0.5,
    );
    expect(phases(told)).toEqual(['plumb', 'point', 'point', 'zeroed']);
    expect(told[2]).toHaveProperty('problem', expect.stringMatching(/20° below level/));
  });

  it('does not mind a player who stands still before hanging the arm', () => {
    const told = zeroStates(
      [
        [45, 4],
        [90, 4],
        [0, 4],
      ],
      0.5,
    );
    expect(phases(told).at(-1)).toBe('zeroed');
  });

  it('does not ask for level while the arm still hangs', () => {
    // a small stir ends the first hold; the second is the same pose
    const told = zeroStates(
      [
        [90, 3],
        [70, 0.1],
        [88, 3],
        [0, 4],
      ],
      0.5,
    );
    expect(phases(told)).toEqual(['plumb', 'point', 'zeroed']);
    expect(told[1]).toHaveProperty('problem', null);
  });

  it('takes the arm hung anew after a pointing that did not fit', () => {
    const told = zeroStates(
      [
        [70, 4],
        [0, 4],
        [90, 4],
        [0, 4],
      ],
      0.5,
    );
    expect(phases(told)).toEqual(['plumb', 'point', 'point', 'point', 'zeroed']);
    // hung 20 degrees forward, so that level seems 20 degrees below
    expect(told[2]).toHaveProperty('problem', expect.stringMatching(/20° (above|below) level/));
    expect(told[3]).toHaveProperty('problem', null);
  });

  it('takes every later hold at the target as a fresh look, and no hold elsewhere', () => {
    const told = zeroStates(
      [
        [90, 4],
        [0, 4],
        [40, 4],
        [3, 4],
      ],
      0.5,
    );
    expect(phases(told)).toEqual(['plumb', 'point', 'zeroed', 'zeroed']);
    const [first, again] = told.slice(2).map((zero) => zero.phase === 'zeroed' && zero.atTimeUs);
    // Pointed from 4.5 s on, and again from 13.5 s on.
    expect(first).toBeGreaterThan(4.5e6);
    expect(first).toBeLessThan(8.6e6);
    expect(again).toBeGreaterThan(13.5e6);
  });

  it('does nothing before it is asked', () => {
    expect(
      zeroStates(
        [
          [90, 4],
          [0, 4],
        ],
        100,
      ),
    ).toEqual([]);
  });
});
