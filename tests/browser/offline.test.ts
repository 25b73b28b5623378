import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { launchChromium, openPage } from './launch.ts';
import { type ServedApp, serveFolder } from './serve-app.ts';
import { endSet, startSimulatedSet, waitForSwing } from './simulated-set.ts';

const underTest = inject('browserUnderTest');
const KEPT = 'Works without network';
const OFFER = 'A new version is ready';

describe.skipIf(underTest === null)('installed', () => {
  const { chromiumPath, folder } = underTest ?? { chromiumPath: '', folder: '' };
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium(chromiumPath);
  });
  afterAll(() => browser.close());

  /** The built app on a server of its own, whose files a test may change. */
  async function withOwnServer(use: (app: ServedApp) => Promise<void>): Promise<void> {
    const copy = await mkdtemp(join(tmpdir(), 'reach-funnel-served-'));
    await cp(folder, copy, { recursive: true });
    const app = await serveFolder(copy);
    try {
      await use(app);
    } finally {
      await app.close();
      await rm(copy, { recursive: true, force: true });
    }
  }

  it('after one visit everything works with network and server gone, a set is recorded and kept', async () => {
    await withOwnServer(async ({ baseUrl, close }) => {
      const { page, context, assertNoErrors } = await openPage(browser);
      await page.goto(baseUrl);
      await page.getByText(KEPT).waitFor();
      await close();
      await context.setOffline(true);
      await page.reload();
      // The chart's code has never been needed before.
      await startSimulatedSet(page, '20 times');
      await waitForSwing(page, 3);
      await page.keyboard.press('1');
      await page.locator('.chart-canvas canvas').first().waitFor();
      await endSet(page);
      await page.reload();
      const line = page.locator('.set-line a').first();
      await line.waitFor();
      await line.click();
      await page.locator('.swing-table').waitFor();
      const setAddress = page.url();
      for (const hash of ['#/storage', '#/import', setAddress.slice(setAddress.indexOf('#'))]) {
        await page.goto(`${baseUrl}${hash}`);
        await page.reload();
        await page.getByRole('heading', { level: 1 }).waitFor();
      }
      await page.getByRole('link', { name: 'Replay' }).click();
      await page.getByRole('slider', { name: 'Place in the set' }).waitFor();
      await page.goto(`${baseUrl}index.html`);
      await page.getByText(KEPT).waitFor();
      assertNoErrors();
      await context.close();
    });
  });

  it('below any path it is installable: manifest and icons are where the page says', async () => {
    const { page, context } = await openPage(browser);
    await page.goto(underTest!.baseUrl);
    const devtools = await context.newCDPSession(page);
    const { url, data = '', errors } = await devtools.send('Page.getAppManifest');
    expect(errors).toEqual([]);
    const manifest = JSON.parse(data);
    expect(manifest).toMatchObject({ display: 'standalone', start_url: './', scope: './' });
    expect(manifest.icons.map((icon: { purpose?: string }) => icon.purpose)).toContain('maskable');
    for (const { src, sizes } of manifest.icons) {
      expect(await pngSize(page, new URL(src, url).href), src).toBe(sizes);
    }
    const html = await readFile(join(folder, 'index.html'), 'utf8');
    expect(html, 'addresses that begin at the root').not.toMatch(/(src|href)="\//);
    const { installabilityErrors } = await devtools.send('Page.getInstallabilityErrors');
    // A context of a test is an incognito window, where nothing can be installed.
    expect(installabilityErrors.map(({ errorId }) => errorId)).toEqual(['in-incognito']);
    await context.close();
  });

  it('a new version is offered and never taken unasked: not by a reload, not with all pages closed, not in a set', async () => {
    await withOwnServer(async (app) => {
      const { page, context, assertNoErrors } = await openPage(browser);
      await page.goto(app.baseUrl);
      await page.getByText(KEPT).waitFor();
      await publish(app, 'Second version');
      await page.reload();
      await page.getByText(OFFER).waitFor();
      expect(await page.title()).toBe('Reach Funnel');

      // Another page goes on with its set whatever is decided here.
      const other = await context.newPage();
      await other.goto(app.baseUrl);
      await other.getByText(OFFER).waitFor();
      await startSimulatedSet(other, '4 times');
      await other.getByText('Hold 1 of 2').waitFor();
      await other.goBack();
      await other.getByText('Back to the running set').waitFor();
      expect(await other.getByText(OFFER).count(), 'offered during a set').toBe(0);

      const idle = await context.newPage();
      await idle.goto(app.baseUrl);
      await idle.getByText(OFFER).waitFor();

      // Closed and opened again: still the old one.
      await page.close();
      const reopened = await context.newPage();
      await reopened.goto(app.baseUrl);
      await reopened.getByText(OFFER).waitFor();
      expect(await reopened.title()).toBe('Reach Funnel');
      await reopened.getByRole('button', { name: 'Update now' }).click();
      await reopened.waitForFunction(() => document.title === 'Second version');
      await reopened.getByText(KEPT).waitFor();
      expect(await reopened.getByText(OFFER).count()).toBe(0);

      await other.goForward();
      await waitForSwing(other, 2);
      await endSet(other);
      expect(await other.title(), 'the page with the set was not loaded again').toBe(
        'Reach Funnel',
      );
      // A page open on the old version gets its chart's code only now, which no server has any more.
      await startSimulatedSet(idle, '20 times');
      await idle.locator('.chart-canvas canvas').first().waitFor();
      expect(await idle.title()).toBe('Reach Funnel');
      assertNoErrors();
      await context.close();
    });
  });

  it('with every page closed a new version still waits to be asked for', async () => {
    await withOwnServer(async (app) => {
      const { page, context, assertNoErrors } = await openPage(browser);
      await page.goto(app.baseUrl);
      await page.getByText(KEPT).waitFor();
      await publish(app, 'Second version');
      await page.reload();
      await page.getByText(OFFER).waitFor();
      await page.close();
      const next = await context.newPage();
      await next.goto(app.baseUrl);
      await next.getByText(OFFER).waitFor();
      expect(await next.title()).toBe('Reach Funnel');
      // A third version takes the place of the second, which nobody wanted.
      await publish(app, 'Third version');
      await next.reload();
      await next.getByText(OFFER).waitFor();
      await expect.poll(() => keptVersions(next)).toBe(2);
      assertNoErrors();
      await context.close();
    });
  });

  it('half a new version is none: the old one goes on and nothing is offered', async () => {
    await withOwnServer(async (app) => {
      const { page, context } = await openPage(browser);
      await page.goto(app.baseUrl);
      await page.getByText(KEPT).waitFor();
      await publish(app, 'Second version');
      await rm(join(app.folder, 'icon-512.png'));
      const failed = page.evaluate(
        () =>
          new Promise((resolve) => {
            void navigator.serviceWorker.ready.then((registration) => {
              registration.addEventListener('updatefound', () => {
                const worker = registration.installing;
                worker?.addEventListener('statechange', () => resolve(worker.state));
              });
              void registration.update();
            });
          }),
      );
      expect(await failed).toBe('redundant');
      await page.reload();
      await page.getByText(KEPT).waitFor();
      expect(await page.getByText(OFFER).count()).toBe(0);
      expect(await page.title()).toBe('Reach Funnel');
      await context.close();
    });
  });
});

/** Changes what the server has, as putting up another build would: page, list of files, and the chart's code is gone. */
async function publish({ folder }: ServedApp, title: string): Promise<void> {
  const page = join(folder, 'index.html');
  const html = await readFile(page, 'utf8');
  await writeFile(page, html.replace(/<title>.*<\/title>/, `<title>${title}</title>`));
  const worker = join(folder, 'service-worker.js');
  const code = await readFile(worker, 'utf8');
  const revision = /("revision":")[^"]*(","url":"index.html")/;
  expect(code, 'revision of index.html').toMatch(revision);
  const chart = /\{"revision":null,"url":"(assets\/LineChart-[^"]*\.js)"\},/;
  const oldChart = chart.exec(code)?.[1];
  if (oldChart !== undefined) await rm(join(folder, oldChart));
  await writeFile(worker, code.replace(revision, `$1${title}$2`).replace(chart, ''));
}

function keptVersions(page: Page): Promise<number> {
  return page.evaluate(async () => {
    const names = await caches.keys();
    return names.filter((name) => name.startsWith('reach-funnel-files-')).length;
  });
}

/** Width and height as the browser sees them. */
function pngSize(page: Page, address: string): Promise<string> {
  return page.evaluate(async (src) => {
    const image = new Image();
    image.src = src;
    await image.decode();
    return `${image.naturalWidth}x${image.naturalHeight}`;
  }, address);
}
