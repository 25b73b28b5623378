import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** Seeded source of numbers for the simulator and for resampling; same seed, same numbers anywhere. */
export interface Random {
  /** Uniform in [low, high). */
  uniform(low: number, high: number): number;
  /** Normal with mean 0 and the given SD. */
  normal(sd: number): number;
}

const WARM_UP = 16;

/**
 * Random numbers from a seed.
 * @param seed any integer; related seeds give unrelated streams
 * Normal numbers: Box & Muller 1958, doi 10.1214/aoms/1177706645.
 */
export function seededRandom(seed: number): Random {
  const generator = xoroshiro128plus(Math.imul(seed, 0x9e3779b1) ^ 0x5bd1e995);
  const next = () => uniformFloat64(generator);
  // The first numbers of neighbouring seeds are correlated; later ones are not.
  for (let i = 0; i < WARM_UP; i++) next();
  return {
    uniform: (low, high) => low + (high - low) * next(),
    normal: (sd) => sd * Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next()),
  };
}
