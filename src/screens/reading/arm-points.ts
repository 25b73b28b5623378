import type { SwingTrace } from '../../core/pipeline/swing-trace.ts';

/** Shoulder, elbow, wrist, sweet spot at one instant, metres from the shoulder, court frame. */
export type ArmPoints = readonly (readonly [x: number, y: number, z: number])[];

/** Where the arm is at a row of the trace. Checked: tests/screens/trace-channels.test.ts */
export function armPoints(
  { directions, lengthsM }: Pick<SwingTrace, 'directions' | 'lengthsM'>,
  row: number,
): ArmPoints {
  const points: [number, number, number][] = [[0, 0, 0]];
  lengthsM.forEach((length, k) => {
    const [x, y, z] = points[k]!;
    const along = (i: number) => length * directions[3 * k + i]![row]!;
    points.push([x + along(0), y + along(1), z + along(2)]);
  });
  return points;
}

/** First and last row of the trace between start and contact. */
export function rowsBetween({
  firstUs,
  stepUs,
  ends,
  reachM,
}: SwingTrace): readonly [number, number] {
  const inside = (row: number) => Math.min(reachM.length - 1, Math.max(0, row));
  const rowOf = (timeUs: number) => (timeUs - firstUs) / stepUs;
  return [inside(Math.ceil(rowOf(ends.startUs))), inside(Math.floor(rowOf(ends.contactUs)))];
}
