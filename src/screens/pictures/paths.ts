/** Shapes of marks. Shape alone tells what a mark means; colour repeats it. */
export type Shape = 'circle' | 'square' | 'diamond' | 'triangle' | 'cross';

type Numbers = ArrayLike<number>;

/** Path data through points in pixels; NaN leaves a gap. Checked: tests/screens/paths.test.ts */
export function linePath(x: Numbers, y: Numbers): string {
  let path = '';
  let isDown = false;
  for (let i = 0; i < x.length; i++) {
    const isPoint = Number.isFinite(x[i]) && Number.isFinite(y[i]);
    if (isPoint) path += `${isDown ? 'L' : 'M'}${px(x[i]!)} ${px(y[i]!)}`;
    isDown = isPoint;
  }
  return path;
}

/** Path data of the area between two curves over the same x, in pixels; NaN leaves a gap. Checked: tests/screens/paths.test.ts */
export function bandPath(x: Numbers, low: Numbers, high: Numbers): string {
  let path = '';
  for (let first = 0; first < x.length; first++) {
    if (!isWhole(first)) continue;
    let last = first;
    while (last + 1 < x.length && isWhole(last + 1)) last++;
    const places = Array.from({ length: last - first + 1 }, (_, i) => first + i);
    const there = places.map((i) => `${px(x[i]!)} ${px(high[i]!)}`);
    const back = places.reverse().map((i) => `${px(x[i]!)} ${px(low[i]!)}`);
    path += `M${[...there, ...back].join('L')}Z`;
    first = last;
  }
  return path;

  function isWhole(i: number): boolean {
    return [x[i], low[i], high[i]].every((value) => Number.isFinite(value));
  }
}

/**
 * Points round an ellipse in data, to be drawn as a closed line on axes of any two scales.
 * @param turnRad of the major half axis from x @returns x and y, the last point the first
 * Checked: tests/screens/paths.test.ts
 */
export function ellipsePoints(
  centre: readonly [number, number],
  halfAxes: readonly [major: number, minor: number],
  turnRad: number,
): readonly [Float64Array, Float64Array] {
  const steps = 72;
  const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)];
  const x = new Float64Array(steps + 1);
  const y = new Float64Array(steps + 1);
  for (let i = 0; i <= steps; i++) {
    const round = (2 * Math.PI * i) / steps;
    const [along, across] = [halfAxes[0] * Math.cos(round), halfAxes[1] * Math.sin(round)];
    x[i] = centre[0] + along * cos - across * sin;
    y[i] = centre[1] + along * sin + across * cos;
  }
  return [x, y];
}

/** One path for many marks, so that thousands cost one element. @param sizePx across Checked: tests/screens/paths.test.ts */
export function marksPath(shape: Shape, x: Numbers, y: Numbers, sizePx: number): string {
  let path = '';
  for (let i = 0; i < x.length; i++) {
    if (Number.isFinite(x[i]) && Number.isFinite(y[i]))
      path += MARK[shape](x[i]!, y[i]!, sizePx / 2);
  }
  return path;
}

const MARK: Readonly<Record<Shape, (x: number, y: number, r: number) => string>> = {
  circle: (x, y, r) =>
    `M${px(x - r)} ${px(y)}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`,
  square: (x, y, r) =>
    `M${px(x - 0.85 * r)} ${px(y - 0.85 * r)}h${1.7 * r}v${1.7 * r}h${-1.7 * r}Z`,
  diamond: (x, y, r) =>
    `M${px(x)} ${px(y - 1.15 * r)}l${1.15 * r} ${1.15 * r}l${-1.15 * r} ${1.15 * r}l${-1.15 * r} ${-1.15 * r}Z`,
  triangle: (x, y, r) => `M${px(x)} ${px(y - r)}l${r} ${2 * r}h${-2 * r}Z`,
  cross: (x, y, r) => `M${px(x - r)} ${px(y - r)}l${2 * r} ${2 * r}m0 ${-2 * r}l${-2 * r} ${2 * r}`,
};

/** A tenth of a pixel is enough, and keeps saved files small. */
function px(value: number): number {
  return Math.round(value * 10) / 10;
}
