import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import { readSet } from '../../src/core/recording/set-reader.ts';

const folder = fileURLToPath(new URL('../../recorded-streams/', import.meta.url));
const files = readdirSync(folder).filter((name) => name.endsWith('.mcap'));

interface Provenance {
  readonly comment: string;
  readonly truth: { readonly contactS: readonly number[]; readonly reachM: readonly number[] };
}

describe('demo sets', () => {
  it('are there, small, and say that nobody swung', () => {
    const sizes = files.map((name) => readFileSync(folder + name).length);
    expect(files.length).toBeGreaterThanOrEqual(2);
    expect(Math.max(...sizes)).toBeLessThanOrEqual(2e6);
    expect(sizes.reduce((sum, size) => sum + size, 0)).toBeLessThanOrEqual(12e6);
    for (const name of files) expect(provenanceOf(name).comment).toMatch(/invented/);
  });

  it.each(files)('%s is whole and reads as the truth beside it says', (name) => {
    const result = readSet(readFileSync(folder + name));
    if (!result.ok) throw new Error(result.error.message);
    expect(result.set.complete).toBe(true);
    const state = createPipeline(result.set.description);
    for (const record of result.set.records) stepPipeline(state, record);
    const { swings } = viewPipeline(state);
    const { truth } = provenanceOf(name);
    expect(swings).toHaveLength(truth.contactS.length);
    swings.forEach(({ swing, points }, i) => {
      // Within a sample (5 ms) of the truth and within 2 cm: a mean error of up to 1 cm plus three SDs of 0.3.
      expect(Math.abs(swing.contactTimeUs / 1e6 - truth.contactS[i]!)).toBeLessThan(0.005);
      expect(Math.abs(swing.reachM - truth.reachM[i]!)).toBeLessThan(0.02);
      expect(points).not.toBeNull();
    });
  });
});

function provenanceOf(name: string): Provenance {
  return JSON.parse(readFileSync(folder + name.replace('.mcap', '.json'), 'utf8')) as Provenance;
}
