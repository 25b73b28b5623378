import type { BrowserContext, Page } from 'playwright-core';

/**
 * Collects every request of a browser context that leaves the app's origin: of pages, their workers, service workers
 * and web sockets. `data:` and `blob:` addresses are no requests.
 * That it sees all of these: tests/browser/origin.test.ts.
 * @returns the list, which grows; the app's origin is that of the first request
 */
export function watchForeignRequests(context: BrowserContext): readonly string[] {
  const foreign: string[] = [];
  let own: string | null = null;
  const look = (address: string): void => {
    const { protocol, host } = new URL(address);
    if (!/^(https?|wss?):$/.test(protocol)) return;
    own ??= host;
    if (host !== own) foreign.push(address);
  };
  const lookAtSockets = (page: Page): void => {
    page.on('websocket', (socket) => look(socket.url()));
  };
  context.on('request', (request) => look(request.url()));
  context.pages().forEach(lookAtSockets);
  context.on('page', lookAtSockets);
  return foreign;
}

/** @throws Error naming every request that left the app's origin */
export function assertNoneForeign(foreign: readonly string[]): void {
  if (foreign.length > 0) throw new Error(`Requests left the origin:\n${foreign.join('\n')}`);
}
