import { cpuUsage } from 'node:process';

/**
 * Times contestants against each other: they alternate, so that a busy machine disturbs all alike; the least disturbed
 * round of each counts, after the compiler has finished.
 * @returns processor time of one round, microseconds, in the order of `runs`
 */
export function leastRounds(runs: readonly (() => void)[], rounds: number): number[] {
  const leastUs = runs.map(() => Number.POSITIVE_INFINITY);
  for (let round = 0; round < rounds; round++) {
    for (const [i, run] of runs.entries()) {
      const before = cpuUsage();
      run();
      const { user, system } = cpuUsage(before);
      leastUs[i] = Math.min(leastUs[i]!, user + system);
    }
  }
  return leastUs;
}
