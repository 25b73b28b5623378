/** A smooth movement through keyframes: columns of several channels over time. */
export interface KeyframeTrack {
  readonly channels: number;
  readonly timesS: number[];
  /** Values and velocities of keyframe k start at k * channels. Accelerations at keyframes are zero. */
  readonly values: number[];
  readonly velocities: number[];
}

/** Empty track. @param channels numbers per keyframe */
export function createTrack(channels: number): KeyframeTrack {
  return { channels, timesS: [], values: [], velocities: [] };
}

/**
 * Appends a keyframe.
 * @throws RangeError when times do not increase or a shape is wrong
 */
export function addKeyframe(
  track: KeyframeTrack,
  timeS: number,
  values: readonly number[],
  velocities?: readonly number[],
): void {
  const last = track.timesS.at(-1) ?? Number.NEGATIVE_INFINITY;
  if (!(timeS > last)) throw new RangeError(`keyframe at ${timeS} s is not after ${last} s`);
  if (values.length !== track.channels) throw new RangeError('keyframe has the wrong shape');
  track.timesS.push(timeS);
  track.values.push(...values);
  track.velocities.push(...(velocities ?? new Array<number>(track.channels).fill(0)));
}

/**
 * Forgets what comes after the first instant from a time on at which the track rests at given values: from there
 * it may go on otherwise.
 * @param fromS not before the first keyframe @param rest shape (channels)
 * @returns that instant, seconds: now the last keyframe
 * @throws RangeError when it never rests there again
 * Checked: tests/simulator/keyframe-track.test.ts
 */
export function cutAtRest(track: KeyframeTrack, fromS: number, rest: readonly number[]): number {
  const { channels, timesS, values, velocities } = track;
  const isRest = (k: number): boolean =>
    rest.every((v, i) => values[k * channels + i] === v && velocities[k * channels + i] === 0);
  const last = timesS.length - 1;
  let at = segmentAt(timesS, fromS);
  const restsNow = isRest(at) && (timesS[at] === fromS || at === last || isRest(at + 1));
  while (!restsNow && (timesS[at]! < fromS || !isRest(at))) {
    if (++at > last) throw new RangeError(`the track does not rest there after ${fromS} s`);
  }
  timesS.length = at + 1;
  values.length = velocities.length = (at + 1) * channels;
  if (timesS[at]! < fromS) addKeyframe(track, fromS, rest);
  return timesS.at(-1)!;
}

/**
 * Value of every channel at a time: quintic Hermite interpolation with zero acceleration at the
 * keyframes (minimum-jerk between two rests: Flash & Hogan 1985). Held constant outside the track.
 * @param out shape (channels)
 */
export function evaluateTrack(
  track: KeyframeTrack,
  timeS: number,
  out: Float64Array,
): Float64Array {
  const { channels, timesS, values, velocities } = track;
  const last = timesS.length - 1;
  const at = segmentAt(timesS, timeS);
  const next = Math.min(at + 1, last);
  const duration = timesS[next]! - timesS[at]!;
  const u = duration > 0 ? Math.min(1, Math.max(0, (timeS - timesS[at]!) / duration)) : 0;
  const u3 = u * u * u;
  const h1 = u3 * (10 - 15 * u + 6 * u * u);
  const g0 = u - u3 * (6 - 8 * u + 3 * u * u);
  const g1 = u3 * (-4 + 7 * u - 3 * u * u);
  for (let i = 0; i < channels; i++) {
    const p0 = values[at * channels + i]!;
    const p1 = values[next * channels + i]!;
    const v0 = velocities[at * channels + i]!;
    const v1 = velocities[next * channels + i]!;
    out[i] = p0 + (p1 - p0) * h1 + duration * (v0 * g0 + v1 * g1);
  }
  return out;
}

function segmentAt(timesS: readonly number[], timeS: number): number {
  let low = 0;
  let high = timesS.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (timesS[middle]! <= timeS) low = middle;
    else high = middle - 1;
  }
  return low;
}
