import { describe, expect, it } from 'vitest';
import { compareWithFiles } from '../../src/storage/catalogue.ts';
import type { CatalogueRow } from '../../src/storage/catalogue-row.ts';
import { StorageError, storageErrorFrom } from '../../src/storage/storage-error.ts';

function row(setId: string, sizeBytes: number): CatalogueRow {
  return {
    setId,
    sizeBytes,
    startedAtMs: 0,
    source: 'simulated',
    player: 'A',
    implement: 'full',
    ball: 'standard',
    swings: 3,
  };
}

describe('compareWithFiles', () => {
  it('takes files as the truth', () => {
    const rows = [row('same', 10), row('grown', 10), row('gone', 10)];
    const files = [
      { setId: 'same', sizeBytes: 10 },
      { setId: 'grown', sizeBytes: 11 },
      { setId: 'new', sizeBytes: 5 },
    ];
    expect(compareWithFiles(rows, files)).toEqual({
      kept: [rows[0]],
      stale: [files[1], files[2]],
      orphans: ['gone'],
    });
  });
});

describe('storageErrorFrom', () => {
  // Exception names: WHATWG File System and Storage standards, W3C IndexedDB 3.0.
  it.each([
    ['QuotaExceededError', 'storage-full'],
    ['SecurityError', 'storage-unavailable'],
    ['NotFoundError', 'set-unreadable'],
    ['NoModificationAllowedError', 'unexpected'],
    ['AbortError', 'unexpected'],
  ])('turns %s into %s', (name, code) => {
    expect(storageErrorFrom(new DOMException('words', name)).code).toBe(code);
  });

  it('leaves a StorageError as it is', () => {
    const error = new StorageError('storage-full', 'Full.');
    expect(storageErrorFrom(error)).toBe(error);
  });
});
