import { type Random, seededRandom } from '../maths/random.ts';

/**
 * Numbers of the random streams that follow from the seed of a session; each new thing gets a stream of its own, so
 * that the bytes of present seeds stay as they are. The seed itself is the stream of the first block's movement
 * and of what the sensors are like.
 */
const STREAMS = {
  /** Noise, delays and losses of upper arm, forearm and implement. */
  sensors: 1,
  /** How each sensor feels the knocks that were planned during the session. */
  laterKnocks: 4,
  pings: 8,
  interludes: 12,
  /** Whatever the player does because the coach asked for it. */
  laterBlocks: 13,
  laterInterludes: 14,
} as const;
const STREAMS_PER_SEED = 16;

/** Seed of one stream of a session. @param segment 0 upper arm .. 2 implement, for streams that each sensor has */
export function streamSeed(seed: number, stream: keyof typeof STREAMS, segment = 0): number {
  return seed * STREAMS_PER_SEED + STREAMS[stream] + segment;
}

/** Numbers of one stream of a session. @param segment as for {@link streamSeed} */
export function streamRandom(seed: number, stream: keyof typeof STREAMS, segment = 0): Random {
  return seededRandom(streamSeed(seed, stream, segment));
}
