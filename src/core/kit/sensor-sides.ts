import { angleBetween, normalise, type Vector3, vector3 } from '../maths/vector.ts';

/** How a box-shaped sensor can lie: 6 faces, 12 edges and 8 corners can point up. */
export type SideKind = 'face' | 'edge' | 'corner';

/** One way to lie, by what points up. */
export interface SensorSide {
  /** Such as '+x' or '+x and -z', sensor axes. */
  readonly name: string;
  readonly kind: SideKind;
  /** Unit length, shape (3). */
  readonly up: Vector3;
}

const KINDS: readonly SideKind[] = ['face', 'edge', 'corner'];
const AXES = ['x', 'y', 'z'] as const;

/** All 26, faces first. */
export const SENSOR_SIDES: readonly SensorSide[] = allSides();

/** The side that is nearest to pointing up. @param force specific force at rest, shape (3), any length but 0 */
export function sideUp(force: Vector3): SensorSide {
  let best = SENSOR_SIDES[0]!;
  for (const side of SENSOR_SIDES) {
    if (angleBetween(side.up, force) < angleBetween(best.up, force)) best = side;
  }
  return best;
}

function allSides(): SensorSide[] {
  const steps = [-1, 0, 1];
  const cube = steps.flatMap((x) => steps.flatMap((y) => steps.map((z) => vector3(x, y, z))));
  const sides = cube
    .filter((up) => up.some((e) => e !== 0))
    .map((up) => {
      const parts = AXES.flatMap((axis, i) => {
        if (up[i] === 0) return [];
        return up[i]! < 0 ? [`-${axis}`] : [`+${axis}`];
      });
      return { name: parts.join(' and '), kind: KINDS[parts.length - 1]!, up: normalise(up, up) };
    });
  return KINDS.flatMap((kind) => sides.filter((side) => side.kind === kind));
}
