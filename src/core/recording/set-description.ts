import type { PerSegment } from '../arm/segments.ts';

/**
 * Everything about a set that is known when it starts; the head of its file.
 * Lengths are metres. What changes during the set is an event, never an edit of this.
 */
export interface SetDescription {
  readonly setId: string;
  /** Wall clock at the start, milliseconds since 1970 (UTC), for people; samples use the host timeline. */
  readonly startedAtMs: number;
  readonly programVersion: string;
  readonly source: 'sensors' | 'simulated' | 'imported';
  /** Pseudonym, never a real name. */
  readonly player: string;
  readonly handedness: 'left' | 'right';
  /** Shoulder to elbow, elbow to wrist, wrist to sweet spot. */
  readonly lengthsM: PerSegment<number>;
  /** From each segment's upper joint (shoulder, elbow, wrist) along the segment to its sensor. */
  readonly sensorFromJointM: PerSegment<number>;
  readonly implement: string;
  readonly ball: string;
  /** The reach the coach hopes for and how far from it still counts; null while nobody knows. */
  readonly sweetSpotBand: { readonly reachM: number; readonly halfWidthM: number } | null;
  /** Points a ball can score, best first, as the score pad shows them. */
  readonly scoreSteps: readonly number[];
}
