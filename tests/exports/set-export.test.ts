import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { exportSet, SET_EXPORTS } from '../../src/core/exports/set-export.ts';
import { readSet } from '../../src/core/recording/set-reader.ts';

const result = readSet(readFileSync('recorded-streams/player-a-short-racket.mcap'));
if (!result.ok) throw new Error(result.error.message);
const { set } = result;

const filesOf = (kind: (typeof SET_EXPORTS)[number]) =>
  [...exportSet(set, kind, '0.0.0')].map(({ path, parts }) => ({
    path,
    bytes: Buffer.concat([...parts].map((part) => Buffer.from(part as string))),
  }));

describe('exports of a set', () => {
  it.each(SET_EXPORTS.filter((kind) => kind !== 'motion-bids'))(
    '%s is one file with its name',
    (kind) => {
      const files = filesOf(kind);
      expect(files).toHaveLength(1);
      const [extension] = kind.split('-').slice(-1);
      expect(files[0]!.path).toBe(
        `${set.description.setId}-${kind.slice(0, -extension!.length - 1)}.${extension}`,
      );
      // Apache Parquet begins and ends with PAR1; a CSV begins with the names of its columns
      const text = files[0]!.bytes.toString('latin1');
      if (extension === 'parquet')
        expect([text.slice(0, 4), text.slice(-4)]).toEqual(['PAR1', 'PAR1']);
      else expect(text.split('\r\n')[0]).toMatch(/^[a-z0-9_,]+$/);
    },
  );

  it('swings have a row each', () => {
    const lines = filesOf('swings-csv')[0]!.bytes.toString().trimEnd().split('\r\n');
    expect(lines).toHaveLength(1 + 20);
  });

  it('motion-bids is a data set of three tracking systems', () => {
    const paths = filesOf('motion-bids').map(({ path }) => path);
    expect(paths).toContain('dataset_description.json');
    expect(paths.filter((path) => path.endsWith('_motion.tsv'))).toHaveLength(3);
  });
});
