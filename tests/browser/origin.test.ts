import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { watchForeignRequests } from './foreign-requests.ts';
import { launchChromium, openPage } from './launch.ts';

const underTest = inject('browserUnderTest');
/** Nobody listens there, and it is not the origin of the app. */
const ELSEWHERE = 'http://127.0.0.1:9/';

describe.skipIf(underTest === null)('nothing leaves the origin', () => {
  const { baseUrl, chromiumPath } = underTest ?? { baseUrl: '', chromiumPath: '' };
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium(chromiumPath);
  });
  afterAll(() => browser.close());

  it('the watch over every browser test sees page, worker, service worker and web socket', async () => {
    const context = await browser.newContext({ bypassCSP: true });
    const foreign = watchForeignRequests(context);
    const page = await context.newPage();
    await page.goto(baseUrl);
    await page.getByText('Works without network').waitFor();
    expect(foreign).toEqual([]);
    await page.evaluate(async (elsewhere) => {
      await fetch(`${elsewhere}page`).catch(() => {});
      navigator.sendBeacon(`${elsewhere}beacon`);
      new WebSocket(`${elsewhere.replace('http', 'ws')}socket`);
      const code = `fetch('${elsewhere}worker').catch(() => {}).then(() => postMessage(1))`;
      const worker = new Worker(URL.createObjectURL(new Blob([code])));
      await new Promise((resolve) => worker.addEventListener('message', resolve));
    }, ELSEWHERE);
    await context
      .serviceWorkers()[0]!
      .evaluate((elsewhere) => fetch(`${elsewhere}service-worker`).catch(() => {}), ELSEWHERE);
    const seen = () => foreign.map((address) => new URL(address).pathname.slice(1)).sort();
    await expect.poll(seen).toEqual(['beacon', 'page', 'service-worker', 'socket', 'worker']);
    await context.close();
  });

  it('the page refuses inline script, evaluated script and foreign addresses by itself', async () => {
    const { page, context } = await openPage(browser);
    await page.goto(baseUrl);
    const policy = await page
      .locator('meta[http-equiv="Content-Security-Policy"]')
      .getAttribute('content');
    const scripts = policy?.split(';').find((rule) => rule.trim().startsWith('script-src'));
    expect(scripts?.trim()).toBe("script-src 'self'");
    const refused = await page.evaluate(async (elsewhere) => {
      const directives: string[] = [];
      document.addEventListener('securitypolicyviolation', (event) =>
        directives.push(event.effectiveDirective),
      );
      const script = document.createElement('script');
      script.textContent = 'document.title = "inline script ran"';
      document.head.append(script);
      const link = document.createElement('a');
      link.setAttribute('onclick', 'document.title = "inline handler ran"');
      link.click();
      // From a timer: what the debugger itself evaluates is let through.
      setTimeout(() => {
        new Function('document.title = "evaluated script ran"')();
      });
      await fetch(elsewhere).catch(() => {});
      new Image().src = `${elsewhere}image.png`;
      await new Promise((resolve) => setTimeout(resolve, 100));
      return directives.sort();
    }, ELSEWHERE);
    expect(refused).toEqual([
      'connect-src',
      'img-src',
      'script-src',
      'script-src-attr',
      'script-src-elem',
    ]);
    expect(await page.title()).toBe('Reach Funnel');
    await context.close();
  });

  it('from the second visit on its worker refuses foreign addresses too, and nobody can frame it', async () => {
    const { page, context } = await openPage(browser);
    await page.goto(baseUrl);
    await page.getByText('Works without network').waitFor();
    const again = await page.reload();
    expect(again?.headers()['content-security-policy']).toMatch(/; frame-ancestors 'none'$/);
    await expect.poll(() => page.workers().length).toBe(1);
    const refused = await page.workers()[0]!.evaluate(async (elsewhere) => {
      const directives: string[] = [];
      self.addEventListener('securitypolicyviolation', (event) =>
        directives.push(event.effectiveDirective),
      );
      await fetch(elsewhere).catch(() => {});
      await new Promise((resolve) => setTimeout(resolve, 100));
      return directives;
    }, ELSEWHERE);
    expect(refused).toEqual(['connect-src']);
    await context.close();
  });
});
