import { describe, expect, it } from 'vitest';
import {
  addJointAcceleration,
  correctAgreement,
  createAgreement,
  type HeadingAgreement,
  noteHistory,
  noteKnock,
  passTime,
  setAgreement,
  updateAgreement,
} from '../../src/core/arm/heading-agreement.ts';
import { smoothHeadings } from '../../src/core/arm/heading-smoother.ts';
import { DEG_PER_RAD, RAD_PER_DEG, wrapAngle } from '../../src/core/maths/angles.ts';
import { type Random, seededRandom } from '../../src/core/maths/random.ts';
import { vector3 } from '../../src/core/maths/vector.ts';

const SAMPLES = 60;

interface WindowErrors {
  /** Noise of each sensor's joint acceleration, m/s^2, alike over 12 samples as the filter takes it to be. */
  readonly noise: number;
  /** SD per axis of a constant error of each sensor, m/s^2. */
  readonly bias: number;
  /** SD of an error of the turn itself, rad: lever arms, clocks, scales. */
  readonly systematic: number;
}
const NO_ERRORS: WindowErrors = { noise: 0, bias: 0, systematic: 0 };
// What the filter's constants promise to cover: 30 mg parts (uniform: 0.17 m/s^2 each) and 1.2 degrees.
const ORDINARY: WindowErrors = { noise: 0.5, bias: 0.17, systematic: 1.2 * RAD_PER_DEG };

/** Feeds 0.3 s of a swing: mostly one way, as a forward swing is. Sensor j's frame is behind i's by `deltaRad`. */
function feedWindow(
  state: HeadingAgreement,
  deltaRad: number,
  random: Random,
  errors: WindowErrors,
): void {
  const way = random.uniform(-Math.PI, Math.PI);
  const turned = deltaRad + random.normal(errors.systematic);
  const biases = Array.from({ length: 4 }, () => random.normal(errors.bias));
  let noise = [0, 0, 0, 0];
  for (let n = 0; n < SAMPLES; n++) {
    const size = 12 * Math.sin((Math.PI * n) / SAMPLES);
    const side = 4 * Math.cos((3 * Math.PI * n) / SAMPLES);
    const x = size * Math.cos(way) - side * Math.sin(way);
    const y = size * Math.sin(way) + side * Math.cos(way);
    const [c, s] = [Math.cos(turned), Math.sin(turned)];
    if (n % 12 === 0) noise = biases.map((bias) => bias + random.normal(errors.noise));
    addJointAcceleration(
      state,
      vector3(x + noise[0]!, y + noise[1]!),
      vector3(c * x + s * y + noise[2]!, -s * x + c * y + noise[3]!),
    );
  }
}

const errorOf = (state: HeadingAgreement, truth: number) => wrapAngle(state.deltaRad - truth);

/** Root mean square. */
const rms = (values: readonly number[]) => Math.hypot(...values) / Math.sqrt(values.length);

describe('updateAgreement', () => {
  it('recovers any turn from one window of joint accelerations without error', () => {
    for (const delta of [0, 0.3, -1.2, 2.9, -3.1, Math.PI]) {
      const state = createAgreement();
      feedWindow(state, delta, seededRandom(1), NO_ERRORS);
      updateAgreement(state);
      // The prior knows nothing (SD pi) and weighs (1.2 to 3 degrees / 180)^2 of the innovation: below 3e-4 of pi.
      expect(Math.abs(errorOf(state, delta))).toBeLessThan(1e-3);
    }
  });

  it('recovers the turn of i = Rz(delta) j in the right sense', () => {
    // By hand: j sees x, i sees y: the frames differ by a quarter turn to the left.
    const state = createAgreement();
    for (let n = 0; n < 50; n++) addJointAcceleration(state, vector3(0, 5), vector3(5, 0));
    updateAgreement(state);
    expect(state.deltaRad).toBeCloseTo(Math.PI / 2, 2);
  });

  it('takes one instant that stands for four as four alike', () => {
    const [one, four] = [createAgreement(), createAgreement()];
    const [i, j] = [vector3(3, -4), vector3(5, 1)];
    for (let n = 0; n < 10; n++) {
      addJointAcceleration(one, i, j, 4);
      for (let k = 0; k < 4; k++) addJointAcceleration(four, i, j);
    }
    expect(one).toEqual(four);
    expect(one.samples).toBe(40);
  });

  it('gives a standard deviation that is honest about one window', () => {
    const seeds = 400;
    const scores = Array.from({ length: seeds }, (_, seed) => {
      const random = seededRandom(1000 + seed);
      const truth = random.uniform(-3, 3);
      const state = createAgreement();
      feedWindow(state, truth, random, ORDINARY);
      updateAgreement(state);
      return errorOf(state, truth) / Math.sqrt(state.pDelta);
    });
    // RMS of 400 standard scores: 1 +- 0.035 (SE 1/sqrt 800). Above 1.1 it would promise too much; it may be a little
    // cautious, since it takes the bias of both sensors to pull always across.
    expect(rms(scores)).toBeLessThan(1.1);
    expect(rms(scores)).toBeGreaterThan(0.7);
    expect(Math.max(...scores.map(Math.abs))).toBeLessThan(4);
  });

  it('tracks a steady drift without lag and with an honest standard deviation', () => {
    // 0.1 deg/s at one swing every 6 s for 4 minutes: the turn drifts by 24 degrees.
    const drift = 0.1 * RAD_PER_DEG;
    const late: number[] = [];
    const scores: number[] = [];
    const drifts: number[] = [];
    for (let seed = 0; seed < 40; seed++) {
      const random = seededRandom(3000 + seed);
      const state = createAgreement();
      setAgreement(state, 0, 4 * RAD_PER_DEG);
      for (let swing = 1; swing <= 40; swing++) {
        for (let n = 0; n < 6; n++) passTime(state, 1, 0.3);
        feedWindow(state, drift * 6 * swing, random, ORDINARY);
        updateAgreement(state);
        if (swing > 20) {
          const error = errorOf(state, drift * 6 * swing);
          late.push(error);
          scores.push(error / Math.sqrt(state.pDelta));
        }
      }
      drifts.push(state.driftRadS);
    }
    // One window errs by the root of 1.2^2 (systematic), 1.3^2 (bias 0.24 m/s^2 across, mean over mean square 7.6/80) and
    // 2.0^2 (five independent errors of 0.7 m/s^2): 2.7 degrees. Twenty of them must do clearly better.
    expect(rms(late) * DEG_PER_RAD).toBeLessThan(0.6 * 2.7);
    // 40 independent runs: RMS known to 11 %; no lag would push it up
    expect(rms(scores)).toBeLessThan(1.2);
    const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
    // a lag would show as a mean error: SE of the mean about 1.3/sqrt 40 = 0.2 degree
    expect(Math.abs(mean(late)) * DEG_PER_RAD).toBeLessThan(0.6);
    expect(Math.abs(mean(drifts) / drift - 1)).toBeLessThan(0.25);
  });

  it('follows a jump that knocks explain', () => {
    const random = seededRandom(5);
    const state = createAgreement();
    setAgreement(state, 0, 1 * RAD_PER_DEG);
    const truth = 3 * RAD_PER_DEG;
    for (let n = 0; n < 6; n++) passTime(state, 1, 0.3);
    for (let n = 0; n < 9; n++) noteKnock(state); // nine knocks: SD 3 degrees
    feedWindow(state, truth, random, NO_ERRORS);
    updateAgreement(state);
    // prior SD 3.2 degrees against a window of 1.3 to 2.5: at least 60 % of the jump at once
    expect(state.deltaRad).toBeGreaterThan(0.6 * truth);
  });

  it('says that a window without enough acceleration or samples says nothing', () => {
    const few = createAgreement();
    for (let n = 0; n < 11; n++) addJointAcceleration(few, vector3(5), vector3(5));
    expect(updateAgreement(few)).toBe(Number.POSITIVE_INFINITY);
    const still = createAgreement();
    for (let n = 0; n < 200; n++) addJointAcceleration(still, vector3(0.45), vector3(0.45)); // below 0.5 m/s^2
    expect(updateAgreement(still)).toBe(Number.POSITIVE_INFINITY);
    expect(still.deltaRad).toBe(0);
    expect(still.pDelta).toBeCloseTo(Math.PI ** 2, 12);
  });

  it('starts every window afresh', () => {
    const state = createAgreement();
    feedWindow(state, 1, seededRandom(6), NO_ERRORS);
    passTime(state, 3, 5);
    noteKnock(state);
    noteKnock(state);
    updateAgreement(state);
    expect(state).toMatchObject({
      sumSine: 0,
      sumCosine: 0,
      sumSquareI: 0,
      sumSquareJ: 0,
      samples: 0,
      elapsedS: 0,
      turnedRad: 0,
      knocks: 0,
    });
  });

  // A fault once: pDelta is cut at pi^2 but pCross is not, so after some 18 minutes in which no window says anything
  // (a break) the covariance is none, and the next correction makes pDrift negative; later pDelta < 0 and the standard
  // error of every reach is NaN.
  it('keeps a covariance through an hour without any window that says something', () => {
    const state = createAgreement();
    setAgreement(state, 0, 4 * RAD_PER_DEG);
    for (let n = 0; n < 3600; n++) {
      passTime(state, 1, 0);
      updateAgreement(state);
    }
    feedWindow(state, 0.3, seededRandom(7), ORDINARY);
    updateAgreement(state);
    expect(state.pDrift).toBeGreaterThan(0);
    expect(state.pDelta * state.pDrift).toBeGreaterThanOrEqual(state.pCross ** 2);
  });
});

describe('correctAgreement', () => {
  it('weighs prior and measurement by their variances', () => {
    // Kalman update by hand: SDs 0.03 and 0.04 give gain 0.36, variance 0.0009 x 0.64.
    const state = createAgreement();
    setAgreement(state, 0.1, 0.03);
    correctAgreement(state, 0.15, 0.04);
    expect(state.deltaRad).toBeCloseTo(0.1 + 0.36 * 0.05, 14);
    expect(state.pDelta).toBeCloseTo(0.0009 * 0.64, 16);
  });

  it('takes the short way over half a turn', () => {
    const state = createAgreement();
    setAgreement(state, 3.1, 0.04);
    correctAgreement(state, -3.1, 0.04);
    // the two are 2 pi - 6.2 = 0.083 apart: half of that beyond 3.1 is pi
    expect(Math.abs(wrapAngle(state.deltaRad - Math.PI))).toBeLessThan(1e-12);
  });

  it('survives one outlier of 60 degrees', () => {
    const random = seededRandom(8);
    const state = createAgreement();
    setAgreement(state, 0, 4 * RAD_PER_DEG);
    for (let swing = 0; swing < 20; swing++) {
      passTime(state, 6, 2);
      feedWindow(state, 0, random, ORDINARY);
      updateAgreement(state);
    }
    const before = { ...state };
    correctAgreement(state, 60 * RAD_PER_DEG, 1.3 * RAD_PER_DEG);
    // With the variance blown up to innovation^2/9 the shift is 9 pDelta/innovation: 60 degrees leave less than one.
    const shift = Math.abs(state.deltaRad - before.deltaRad);
    expect(shift).toBeLessThan(((9 * before.pDelta) / (60 * RAD_PER_DEG)) * 1.1);
    expect(shift).toBeLessThan(1 * RAD_PER_DEG);
    expect(Math.abs(state.driftRadS - before.driftRadS)).toBeLessThan(0.05 * RAD_PER_DEG);
    // and two innovations' SDs are still believed as they are
    const mild = structuredClone(before);
    const twoSd = 2 * Math.sqrt(before.pDelta + (1.3 * RAD_PER_DEG) ** 2);
    correctAgreement(mild, before.deltaRad + twoSd, 1.3 * RAD_PER_DEG);
    const gain = before.pDelta / (before.pDelta + (1.3 * RAD_PER_DEG) ** 2);
    expect(mild.deltaRad - before.deltaRad).toBeCloseTo(gain * twoSd, 12);
  });
});

describe('the noise of a turn', () => {
  const covarianceOf = ({
    pDelta,
    pCross,
    pDrift,
  }: HeadingAgreement | HeadingAgreement['noise']) => [pDelta, pCross, pDrift];

  /** Some windows' worth of predictions and corrections. */
  function correctOften(noiseShare: number): HeadingAgreement {
    const state = createAgreement();
    setAgreement(state, 0.3, 4 * RAD_PER_DEG);
    for (let i = 0; i < 8; i++) {
      passTime(state, 5, 0);
      noteKnock(state); // turning is the same from swing to swing, so it would count as shared
      updateAgreement(state); // nothing was measured: only time passes
      const sd = (1 + (i % 3)) * RAD_PER_DEG;
      correctAgreement(state, 0.3, sd, noiseShare * sd);
    }
    return state;
  }

  // Joseph's form with the optimal gain is the usual update, algebraically: Bierman 1977 (from memory).
  it('is the whole covariance when windows share no error', () => {
    const state = correctOften(1);
    covarianceOf(state).forEach((value, i) => {
      expect(covarianceOf(state.noise)[i]! / value).toBeCloseTo(1, 9);
    });
  });

  it('is less by what they share', () => {
    const state = correctOften(0.3);
    expect(covarianceOf(state)).toEqual(covarianceOf(correctOften(1)));
    expect(state.noise.pDelta).toBeLessThan(state.pDelta);
    expect(state.noise.pDelta * state.noise.pDrift).toBeGreaterThan(state.noise.pCross ** 2);
  });
});

describe('history', () => {
  const begin = () => {
    const state = createAgreement();
    setAgreement(state, 0.3, 3 * RAD_PER_DEG);
    correctAgreement(state, 0.31, 1 * RAD_PER_DEG);
    return state;
  };
  const rest = (state: HeadingAgreement, seconds: number) => {
    for (let s = 0; s < seconds; s++) {
      passTime(state, 1, 0.01);
      updateAgreement(state);
    }
  };

  it('does not grow while nothing is measured', () => {
    const state = begin();
    const before = state.history.length;
    rest(state, 3600);
    expect(state.history.length).toBe(before + 1);
  });

  it('leaves what a swing refers to as it is, and what comes later is the same in one step as in many', () => {
    const state = begin();
    rest(state, 20);
    const { deltaRad, driftRadS, pDelta, pCross, pDrift, noise } = state;
    const known = { deltaRad, driftRadS, pDelta, pCross, pDrift, noise: { ...noise } };
    const steps = noteHistory(state);
    rest(state, 30);
    correctAgreement(state, 0.42, 1 * RAD_PER_DEG);
    // written out by hand: 30 steps of a second each after the swing
    const walk = (0.03 * RAD_PER_DEG) ** 2;
    const turned = (0.004 * 0.01) ** 2;
    const second = {
      kind: 'passed',
      stepS: 1,
      walkVariance: walk + turned,
      noiseWalkVariance: walk,
    } as const;
    const apart = [
      ...state.history.slice(0, steps),
      ...Array.from({ length: 30 }, () => second),
      state.history.at(-1)!,
    ];
    expect(state.history.length).toBe(steps + 2);
    const [whole] = smoothHeadings(state.history, [{ known, steps }]);
    const [byHand] = smoothHeadings(apart, [{ known, steps }]);
    expect(whole!.deltaRad).toBeCloseTo(byHand!.deltaRad, 12);
    expect(whole!.pDelta).toBeCloseTo(byHand!.pDelta, 15);
    expect(Math.abs(whole!.deltaRad - known.deltaRad)).toBeGreaterThan(0.001);
  });
});
