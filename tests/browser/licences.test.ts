import { readFileSync } from 'node:fs';
import { describe, expect, inject, it } from 'vitest';

const underTest = inject('browserUnderTest');

describe.skipIf(underTest === null)('the built app', () => {
  const { baseUrl, folder } = underTest ?? { baseUrl: '', folder: '' };

  it('is served with the licence of every package that may be in it', async () => {
    const response = await fetch(`${baseUrl}licences.txt`);
    expect(response.headers.get('content-type')).toMatch(/^text\/plain/);
    const text = await response.text();
    const { dependencies } = JSON.parse(readFileSync('package.json', 'utf8')) as {
      dependencies: Record<string, string>;
    };
    const lines = new Set(text.split('\n'));
    const missing = Object.entries(dependencies).filter((pair) => !lines.has(pair.join(' ')));
    expect(missing).toEqual([]);
    // One that nothing here names: it comes with another.
    expect(text).toMatch(/^@preact\/signals-core \d/m);
    // Each as its package has it: OSI's texts of MIT, ISC, Apache-2.0 and BSD-3-Clause begin or go on like this.
    expect(text).toMatch(/Permission is hereby granted, free of charge/);
    expect(text).toMatch(/Permission to use, copy, modify, and\/or distribute this software/);
    expect(text).toMatch(/Apache License\s+Version 2\.0, January 2004/);
    expect(text).toMatch(/Redistribution and use in source and binary forms/);
    expect(text).toMatch(/Boost Software License - Version 1\.0/);
    expect(text).toContain('The Stdlib Authors.');
  });

  it('keeps them out of what a phone fetches for use without network', () => {
    const worker = readFileSync(`${folder}/service-worker.js`, 'utf8');
    expect(worker).toContain('"url":"index.html"');
    expect(worker).not.toContain('licences.txt');
  });
});
