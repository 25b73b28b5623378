import { RAD_PER_DEG } from '../maths/angles.ts';
import { angleBetween, normalise, type Vector3, vector3 } from '../maths/vector.ts';

/** Orientations closer than this count as the same one. */
const DISTINCT_RAD = 15 * RAD_PER_DEG;
const AXES = ['x', 'y', 'z'] as const;

/**
 * How many of the given directions are distinct.
 * @param forces each of shape (3), any length but 0
 */
export function countDistinct(forces: readonly Vector3[]): number {
  const seen: Vector3[] = [];
  for (const force of forces) {
    if (seen.every((s) => angleBetween(s, force) > DISTINCT_RAD)) seen.push(force);
  }
  return seen.length;
}

/**
 * The face, edge or corner of a box-shaped sensor that is farthest from any used so far.
 * @param forces specific force at rest, each of shape (3): it points up
 * @returns what should point up next, such as '+x' or '+x and -z'
 */
export function missingFace(forces: readonly Vector3[]): string {
  let farthest = { name: '', angleRad: -1 };
  for (const face of faces()) {
    const nearest = Math.min(...forces.map((force) => angleBetween(face, force)));
    if (nearest > farthest.angleRad) farthest = { name: nameOf(face), angleRad: nearest };
  }
  return farthest.name;
}

/** Faces, edges and corners: the 26 directions with elements -1, 0, 1, unit length. */
function faces(): Vector3[] {
  const steps = [-1, 0, 1];
  const cube = steps.flatMap((x) => steps.flatMap((y) => steps.map((z) => vector3(x, y, z))));
  return cube.filter((d) => d.some((e) => e !== 0)).map((d) => normalise(d, d));
}

function nameOf(face: Vector3): string {
  const parts = AXES.map((axis, i) => `${face[i]! < 0 ? '-' : '+'}${axis}`);
  return parts.filter((_, i) => face[i] !== 0).join(' and ');
}
