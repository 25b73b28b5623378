import { type Browser, chromium, type Page } from 'playwright-core';
import { watchForeignRequests } from '../foreign-requests.ts';

/** A page whose Bluetooth is the emulated one. */
export interface BlePage {
  readonly browser: Browser;
  readonly page: Page;
  /** The device that the next chooser gets. */
  choose(name: string): void;
  /** Uncaught exceptions and what the console calls an error. */
  readonly errors: string[];
  /** Requests that left the app's origin. */
  readonly foreign: readonly string[];
}

const WITHOUT_NETWORK = [
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/**
 * Opens Chromium on a private bus. The device chooser is answered through the DevTools domain DeviceAccess.
 * @param busAddress of the bus on which the fake BlueZ is
 */
export async function openBlePage(
  executablePath: string,
  busAddress: string,
  url: string,
): Promise<BlePage> {
  const sandbox = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  const browser = await chromium.launch({
    executablePath,
    env: { ...process.env, DBUS_SYSTEM_BUS_ADDRESS: busAddress } as Record<string, string>,
    args: [
      ...sandbox,
      ...WITHOUT_NETWORK,
      '--enable-features=WebBluetooth,WebBluetoothNewPermissionsBackend',
    ],
  });
  const context = await browser.newContext({
    viewport: { width: 390, height: 844 },
    acceptDownloads: true,
  });
  const foreign = watchForeignRequests(context);
  const page = await context.newPage();
  // A busy machine makes it all slower, not wrong.
  page.setDefaultTimeout(60_000);
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(error.stack ?? error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(`console: ${message.text()}`);
  });
  const devtools = await context.newCDPSession(page);
  let wanted = '';
  const answered = new Set<string>();
  // The domain is younger than playwright's types.
  const raw = devtools as unknown as {
    send(method: string, params?: object): Promise<void>;
    on(
      event: string,
      listener: (prompt: { id: string; devices: { id: string; name: string }[] }) => void,
    ): void;
  };
  await raw.send('DeviceAccess.enable');
  raw.on('DeviceAccess.deviceRequestPrompted', ({ id, devices }) => {
    const device = devices.find(({ name }) => name === wanted);
    // Told again at every change of the list; answering one chooser twice kills the browser.
    if (device === undefined || answered.has(id)) return;
    answered.add(id);
    void raw.send('DeviceAccess.selectPrompt', { id, deviceId: device.id });
  });
  await page.goto(url);
  return {
    browser,
    page,
    errors,
    foreign,
    choose: (name) => {
      wanted = name;
    },
  };
}
