import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import { assertNoneForeign, watchForeignRequests } from './foreign-requests.ts';

export interface View {
  readonly width: number;
  readonly height: number;
  readonly colorScheme: 'light' | 'dark';
}

const PHONE: View = { width: 390, height: 844, colorScheme: 'light' };

export interface OpenPage {
  readonly context: BrowserContext;
  readonly page: Page;
  /**
   * @throws Error listing every console error and uncaught exception since the page opened, or every request that
   * left the app's origin
   */
  assertNoErrors(): void;
}

/** What every Chromium here is started with. It refuses its sandbox to root, which is what a CI container runs as. */
export const CHROMIUM_ARGS: readonly string[] = [
  ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

export function launchChromium(executablePath: string): Promise<Browser> {
  return chromium.launch({ executablePath, args: [...CHROMIUM_ARGS] });
}

export async function openPage(browser: Browser, view: View = PHONE): Promise<OpenPage> {
  const { width, height, colorScheme } = view;
  const context = await browser.newContext({ viewport: { width, height }, colorScheme });
  const foreign = watchForeignRequests(context);
  const page = await context.newPage();
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(`uncaught: ${error.stack ?? error.message}`));
  page.on('console', (message) => {
    if (message.type() === 'error')
      errors.push(`console: ${message.text()} (${message.location().url})`);
  });
  return {
    context,
    page,
    assertNoErrors() {
      if (errors.length > 0) throw new Error(`The page reported errors:\n${errors.join('\n')}`);
      assertNoneForeign(foreign);
    },
  };
}
