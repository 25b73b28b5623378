import { describe, expect, it } from 'vitest';
import { readText } from '../../src/batch/read-recording.ts';
import { type RelativeError, relativeError, rms } from '../../src/batch/relative-error.ts';
import { accelerationMethod } from '../../src/batch/relative-method.ts';
import { RIG_CONVERGES_S, RIGS, type Rig, rigTrial } from '../../src/batch/rig-trial.ts';
import { DEG_PER_RAD } from '../../src/core/maths/angles.ts';
import { openDataFile } from '../open-data.ts';

const TRIALS = RIGS.map((rig) => ({ ...rig, path: openDataFile(rig.file) }));

interface RigError extends RelativeError {
  readonly timeS: number;
  /** The filter's own SD of its heading, rad. */
  readonly sdRad: number;
}

/** Production filter and heading agreement over a whole recording, nothing known at first. */
function errorsOf(rig: Rig, text: string): RigError[] {
  const method = accelerationMethod();
  const errors: RigError[] = [];
  for (const instant of rigTrial(rig, text).instants()) {
    const estimate = method.step(instant);
    if (instant.qTrue === null || !instant.counts) continue;
    const error = relativeError(instant.above.qEarthFromSensor, estimate, instant.qTrue);
    errors.push({ ...error, timeS: instant.timeS, sdRad: method.headingSdRad() });
  }
  return errors;
}

// Two rigid segments, real sensors, optical reference on both: data set dfjimu-two-segment (MIT). Moved by hand at
// 1 m/s^2 (RMS, horizontal), a tenth of a swing: the hard case for joint accelerations.
describe.each(TRIALS)('relative orientation on the $name', ({ path, ...rig }) => {
  const test = it.skipIf(path === null);
  let errors: RigError[] = [];
  const found = () => {
    if (errors.length === 0 && path !== null) errors = errorsOf(rig, readText(path));
    return errors;
  };
  const rmsDeg = (part: (error: RigError) => number) => DEG_PER_RAD * rms(found().map(part));

  test('is within 4 degrees RMS of the optical reference after 10 s', () => {
    const total = rmsDeg((error) => error.angle);
    const parts = `heading ${rmsDeg((e) => e.heading).toFixed(2)}, tilt ${rmsDeg((e) => e.tilt).toFixed(2)}`;
    console.info(`${rig.name}: relative orientation ${total.toFixed(2)} degrees RMS (${parts})`);
    expect(RIG_CONVERGES_S).toBe(10);
    expect(found().length).toBeGreaterThan(2500); // 50 a second for at least 50 s
    expect(total).toBeLessThan(4);
  });

  test('does not drift: the last ten seconds are within 5 degrees', () => {
    // Some seconds average less than a whole recording; were the turn lost, it would be 70 degrees (2-DoF joint).
    const endS = found().at(-1)?.timeS ?? Number.NaN;
    const late = found().filter((error) => error.timeS > endS - 10);
    expect(DEG_PER_RAD * rms(late.map((error) => error.angle))).toBeLessThan(5);
  });

  test('knows its heading error: within 1.96 SD of it at 90 % of the instants or more', () => {
    const within = found().filter((error) => Math.abs(error.heading) <= 1.96 * error.sdRad);
    // Errors of one recording are a single long draw: 90 and not 95 %. An SD of many degrees would say nothing.
    expect(within.length / found().length).toBeGreaterThan(0.9);
    expect(rmsDeg((error) => error.sdRad)).toBeLessThan(5);
  });
});
