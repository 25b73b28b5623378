import { expect, test } from 'vitest';
import { standaloneSvg } from '../../src/screens/pictures/standalone-svg.ts';

const COLOURS: Readonly<Record<string, string>> = {
  '--surface': '#ffffff',
  '--ink': '#0e171b',
  '--in': '#004f86',
  '--sans': 'system-ui, "DejaVu Sans"',
};

test('a saved drawing has its colours, its font, its title and every word, and no variable left', () => {
  const words = 'Not shown yet: 5 of at least 10 swings & more than one line can hold <here>.';
  const { text, width, height } = standaloneSvg({
    inner: '<path d="M0 0L1 1" stroke="var(--in)"/>',
    width: 300,
    height: 200,
    title: 'Funnel: does reach become steadier toward contact?',
    words,
    colourOf: (name) => COLOURS[name] ?? '',
  });
  expect(text).toContain('stroke="#004f86"');
  expect(text).toContain(`font-family="system-ui, 'DejaVu Sans'"`);
  expect(text).not.toContain('var(');
  expect(text).toContain('&amp; more');
  expect(text).not.toContain('<here>');
  const lines = [...text.matchAll(/font-size="14">([^<]*)</g)].map(([, line]) => line);
  expect(lines.length).toBeGreaterThan(1);
  // Bold letters of 18 px are some 11 px wide: the title does not fit on one line of 300 px.
  expect(text.match(/font-weight="700"/g)!.length).toBeGreaterThan(1);
  expect(lines.join(' ').replaceAll('&amp;', '&').replace('&lt;here&gt;', '<here>')).toBe(words);
  expect(width).toBe(332);
  expect(height).toBeGreaterThan(200 + 2 * 20);
});
