/** The three segments of the striking arm, from the shoulder outwards; one sensor sits on each. */
export const SEGMENTS = ['upperArm', 'forearm', 'implement'] as const;

/** Name of one arm segment. The implement segment runs from the wrist to the sweet spot, hand included. */
export type Segment = (typeof SEGMENTS)[number];

/** Plain names for messages a coach reads. */
export const SEGMENT_WORDS: Readonly<Record<Segment, string>> = {
  upperArm: 'upper arm',
  forearm: 'forearm',
  implement: 'implement',
};

/** One value per segment. */
export type PerSegment<T> = Readonly<Record<Segment, T>>;

/**
 * Place of a segment in {@link SEGMENTS}, for use with typed-array columns.
 * @returns 0 upper arm, 1 forearm, 2 implement
 */
export function segmentIndex(segment: Segment): 0 | 1 | 2 {
  return segment === 'upperArm' ? 0 : segment === 'forearm' ? 1 : 2;
}
