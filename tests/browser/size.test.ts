import { gzipSync } from 'node:zlib';
import { describe, expect, inject, it } from 'vitest';
import { launchChromium, openPage } from './launch.ts';
import { startSimulatedSet } from './simulated-set.ts';

const underTest = inject('browserUnderTest');
const MOST_KB = 200;

describe.skipIf(underTest === null)('size', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };

  it(`what the browser runs before the first chart is at most ${MOST_KB} kB of script, gzipped`, async () => {
    const browser = await launchChromium(chromiumPath);
    const { page, context } = await openPage(browser);
    const fetched = new Map<string, number>();
    context.on('response', async (response) => {
      // What the service worker fetches for later is not run.
      if (response.request().serviceWorker() !== null) return;
      if (!/javascript/.test(response.headers()['content-type'] ?? '')) return;
      const name = new URL(response.url()).pathname.split('/').at(-1)!;
      fetched.set(name, gzipSync(await response.body()).length / 1000);
    });
    await page.goto(baseUrl);
    await startSimulatedSet(page, 'As in life');
    // The poses come before the first chart; faster they could pass between two looks on a busy machine.
    await page.getByText('Hold 1 of 2').waitFor();
    const counted = [...fetched].filter(([name]) => !/^(LineChart|service-worker)/.test(name));
    const kB = counted.reduce((sum, [, size]) => sum + size, 0);
    const list = counted.map(([name, size]) => `${name} ${size.toFixed(1)}`).join(', ');
    console.log(`script before the first chart: ${kB.toFixed(1)} kB gzipped (${list})`);
    expect(counted.length, 'page and worker').toBeGreaterThanOrEqual(2);
    expect(kB).toBeLessThanOrEqual(MOST_KB);
    await browser.close();
  });
});
