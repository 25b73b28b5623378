/**
 * Second-order Butterworth low-pass over several channels at once, started with a running mean so
 * that it has no transient. State is plain columns: it can be copied, stored and resumed.
 *   f_c = sqrt(2) / (2 pi tau), bilinear transform; for the first tau seconds the mean so far.
 * Source: Laidig & Seel 2023, doi 10.1016/j.inffus.2022.10.014, section 3.2 and appendix.
 */
export interface LowPassCoefficients {
  readonly b0: number;
  readonly b1: number;
  readonly b2: number;
  readonly a1: number;
  readonly a2: number;
  /** Samples of running mean at the start. */
  readonly meanSamples: number;
}

/** Channels side by side: `s0`, `s1` filter memory, `out` last output; during the mean phase `s0` holds the sum. */
export interface LowPassState {
  samples: number;
  readonly s0: Float64Array;
  readonly s1: Float64Array;
  readonly out: Float64Array;
}

/**
 * Filter coefficients.
 * @param tauS time constant, seconds @param intervalS sampling interval, seconds
 * @throws RangeError unless tauS >= intervalS / 2
 */
export function lowPassCoefficients(tauS: number, intervalS: number): LowPassCoefficients {
  if (!(tauS >= intervalS / 2)) {
    throw new RangeError(
      `low-pass: time constant ${tauS} s is below half the interval ${intervalS} s`,
    );
  }
  const c = Math.tan((Math.SQRT2 / (2 * tauS)) * intervalS);
  const d = c * c + Math.SQRT2 * c + 1;
  const b0 = (c * c) / d;
  return {
    b0,
    b1: 2 * b0,
    b2: b0,
    a1: (2 * (c * c - 1)) / d,
    a2: (1 - Math.SQRT2 * c + c * c) / d,
    meanSamples: Math.ceil(tauS / intervalS - 1e-9),
  };
}

/** Fresh state for `channels` channels. */
export function createLowPass(channels: number): LowPassState {
  return {
    samples: 0,
    s0: new Float64Array(channels),
    s1: new Float64Array(channels),
    out: new Float64Array(channels),
  };
}

/** Filters one sample of every channel. @param x shape (channels) @returns state.out, shape (channels) */
export function stepLowPass(
  c: LowPassCoefficients,
  state: LowPassState,
  x: Float64Array,
): Float64Array {
  const { s0, s1, out } = state;
  const channels = out.length;
  if (state.samples < c.meanSamples) {
    state.samples++;
    const last = state.samples === c.meanSamples;
    for (let i = 0; i < channels; i++) {
      const sum = s0[i]! + x[i]!;
      const mean = sum / state.samples;
      out[i] = mean;
      s0[i] = last ? mean * (1 - c.b0) : sum;
      if (last) s1[i] = mean * (c.b2 - c.a2);
    }
    return out;
  }
  const { b0, b1, b2, a1, a2 } = c;
  for (let i = 0; i < channels; i++) {
    const xi = x[i]!;
    const y = b0 * xi + s0[i]!;
    s0[i] = b1 * xi - a1 * y + s1[i]!;
    s1[i] = b2 * xi - a2 * y;
    out[i] = y;
  }
  return out;
}
