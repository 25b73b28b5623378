import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { CDPSession, Page } from 'playwright-core';
import { assertNoneForeign, watchForeignRequests } from '../foreign-requests.ts';
import { endSet, startSimulatedSet } from '../simulated-set.ts';
import { tellAir } from './air-plan.ts';
import { type Held, MemoryProbe } from './memory-probe.ts';
import { freeStorage, makeClockSteppable, trouble } from './page-troubles.ts';
import { startSoakChromium } from './soak-chromium.ts';
import type { SetPlan } from './soak-plan.ts';

/** What a set left behind. */
export interface PlayedSet {
  readonly plan: SetPlan;
  readonly setId: string;
  /** Its file: as stored, or, when storage was full, as the coach saved it. */
  readonly bytes: Uint8Array;
  /** Of a set during which storage got full. */
  readonly full: FullStorage | null;
  /** Of a reloaded set: host time up to which it had been sent, microseconds. */
  readonly sentUs: number;
  /** Swings as the Start screen's list has them. */
  readonly swingsListed: number;
  /** What the Start screen said of recovered sets; null when nothing. */
  readonly recovered: string | null;
  /** While it ran, by second of the set. */
  readonly running: readonly { readonly atS: number; readonly held: Held }[];
  /** Back on the Start screen. */
  readonly atRest: Held;
  /** Which life of the page it ended in: a reload begins another. */
  readonly life: number;
  readonly tookS: number;
}

/** What became of storage that got full. */
export interface FullStorage {
  /** Host time at which the coach was seen to be told, microseconds. */
  readonly toldUs: number;
  /** What got into the file before, read past the app. */
  readonly stored: Uint8Array;
}

const LOOK_MS = 200;
/** Simulated seconds between two looks at the memory of a running set; each stops it for a moment. */
const SAMPLE_S = 120;
/** A set that goes on for so long without getting on has hung, milliseconds. */
const STUCK_MS = 120_000;

/** A Chromium with a profile of its own in which sets are played one after another. */
export class Soak {
  readonly #page: Page;
  readonly #devtools: CDPSession;
  readonly #probe: MemoryProbe;
  readonly #downloads: string;
  readonly #errors: string[] = [];
  readonly #foreign: readonly string[];
  readonly #stop: () => Promise<void>;
  #life = 0;

  private constructor(
    parts: { page: Page; devtools: CDPSession; probe: MemoryProbe; downloads: string },
    stop: () => Promise<void>,
  ) {
    this.#page = parts.page;
    this.#devtools = parts.devtools;
    this.#probe = parts.probe;
    this.#downloads = parts.downloads;
    this.#stop = stop;
    this.#foreign = watchForeignRequests(this.#page.context());
    this.#page.on('pageerror', (error) => this.#errors.push(`uncaught: ${error.stack}`));
    this.#page.on('console', (message) => {
      if (message.type() === 'error') this.#errors.push(`console: ${message.text()}`);
    });
  }

  static async open(chromiumPath: string, baseUrl: string): Promise<Soak> {
    const folder = await mkdtemp(join(tmpdir(), 'reach-funnel-soak-'));
    const { browser, stop } = await startSoakChromium(chromiumPath, join(folder, 'profile'));
    const stopAll = async (): Promise<void> => {
      await stop();
      await rm(folder, { recursive: true, force: true });
    };
    try {
      const context = browser.contexts()[0]!;
      const page = context.pages()[0] ?? (await context.newPage());
      const downloads = join(folder, 'downloads');
      const browserTools = await browser.newBrowserCDPSession();
      const allow = { behavior: 'allow', downloadPath: downloads } as const;
      await browserTools.send('Browser.setDownloadBehavior', allow);
      await makeClockSteppable(page);
      const devtools = await context.newCDPSession(page);
      const probe = await MemoryProbe.of(page);
      const soak = new Soak({ page, devtools, probe, downloads }, stopAll);
      await page.goto(baseUrl);
      return soak;
    } catch (error) {
      await stopAll();
      throw error;
    }
  }

  /** What the Start screen holds before the first set. */
  held(): Promise<Held> {
    return this.#probe.held();
  }

  /**
   * Everything that went wrong in the page by itself.
   * @throws Error when a request left the app's origin
   */
  errors(): readonly string[] {
    assertNoneForeign(this.#foreign);
    return this.#errors;
  }

  close(): Promise<void> {
    return this.#stop();
  }

  /** Plays one set with all its troubles and takes what it left. */
  async play(plan: SetPlan): Promise<PlayedSet> {
    const page = this.#page;
    const startedMs = performance.now();
    await page.evaluate(() => Reflect.deleteProperty(window, 'soakRunning'));
    await page.evaluate(tellAir, plan.air);
    // The speed is that of the plan; the form's is not used.
    await startSimulatedSet(page, '20 times');
    const { setId, running, toldUs } = await this.#untilEnd(plan);
    const isUnsaved = toldUs !== null;
    let full: FullStorage | null = null;
    const sentUs = await nowUs(page);
    let bytes: Uint8Array;
    let swingsListed: number;
    if (plan.ending === 'reloaded') {
      await this.#reload();
      swingsListed = await this.#listed(setId);
      bytes = await storedFile(page, setId);
    } else {
      await endSet(page);
      swingsListed = await this.#listed(setId);
      bytes = isUnsaved ? await this.#saveUnsaved(setId) : await storedFile(page, setId);
    }
    if (isUnsaved) {
      full = { toldUs, stored: await storedFile(page, setId) };
      await freeStorage(page, this.#devtools);
      await this.#reload();
      await this.#listed(setId);
    }
    const notice = page.getByText(/interrupted/);
    const recovered = (await notice.count()) > 0 ? await notice.textContent() : null;
    const atRest = await this.#probe.held();
    const tookS = (performance.now() - startedMs) / 1000;
    const life = this.#life;
    const told = { sentUs, swingsListed, recovered, full };
    return { plan, setId, bytes, ...told, running, atRest, life, tookS };
  }

  async #untilEnd(
    plan: SetPlan,
  ): Promise<Pick<PlayedSet, 'setId' | 'running'> & { toldUs: number | null }> {
    const page = this.#page;
    await page.waitForFunction(() => Reflect.get(window, 'soakRunning') !== undefined);
    const setId = await page.evaluate(() => String(Reflect.get(window, 'soakRunning').setId));
    const left = [...plan.troubles];
    // Settled in any case: other troubles come while the file still has room.
    let telling: Promise<number | Error> | null = null;
    const running: { atS: number; held: Held }[] = [];
    let sampleS = SAMPLE_S;
    let lastS = 0;
    let movedMs = performance.now();
    for (;;) {
      const atS = (await nowUs(page)) / 1e6;
      if (atS > lastS) movedMs = performance.now();
      if (performance.now() - movedMs > STUCK_MS) throw new Error(`set ${setId} hangs at ${atS} s`);
      lastS = atS;
      const next = left[0];
      if (next !== undefined && atS >= next.atS) {
        left.shift();
        await trouble(page, this.#devtools, next.what);
        if (next.what === 'storage-full') telling = toldFull(page).catch((error: Error) => error);
      } else if (atS >= plan.endS && left.length === 0) {
        const toldUs = await telling;
        if (toldUs instanceof Error) throw toldUs;
        return { setId, running, toldUs };
      } else if (atS >= sampleS) {
        running.push({ atS, held: await this.#probe.held() });
        sampleS += SAMPLE_S;
      } else await page.waitForTimeout(LOOK_MS);
    }
  }

  async #reload(): Promise<void> {
    await this.#page.reload();
    this.#life++;
    const toStart = this.#page.getByRole('link', { name: 'To the Start screen' });
    const start = this.#page.getByRole('heading', { name: 'Recent sets' });
    await toStart.or(start).waitFor();
    // The Court screen of a set that was cut off.
    if (await toStart.isVisible()) await toStart.click();
  }

  /** Waits for the set's line of the list. @returns the swings it tells */
  async #listed(setId: string): Promise<number> {
    const line = this.#page.locator(`.set-line a[href*="${setId}"]`);
    const text = await line.textContent();
    return Number(/(\d+) swings?/.exec(text ?? '')?.[1]);
  }

  /** As the coach does who was told that the set is in memory only. */
  async #saveUnsaved(setId: string): Promise<Uint8Array> {
    const line = this.#page.locator('.set-line', { has: this.#page.locator(`[href*="${setId}"]`) });
    await line.getByText('In memory only').waitFor();
    await line.getByRole('button', { name: /Save file of the set/ }).click();
    const path = join(this.#downloads, `${setId}.mcap`);
    for (let waitedMs = 0; waitedMs < STUCK_MS; waitedMs += LOOK_MS) {
      const bytes = await readFile(path).catch(() => null);
      if (bytes !== null && bytes.length > 0) return new Uint8Array(bytes);
      await this.#page.waitForTimeout(LOOK_MS);
    }
    throw new Error(`the file of set ${setId} was not saved`);
  }
}

/** Waits until the coach is told, at the latest when the file has to grow. @returns the host time, microseconds */
async function toldFull(page: Page): Promise<number> {
  await page.getByText(/The storage of this device is full/).waitFor({ timeout: STUCK_MS });
  const toldUs = await nowUs(page);
  await page.getByText(/goes on in memory only: keep this page open/).waitFor();
  return toldUs;
}

/** Host time of the running set, microseconds; 0 when there is none any more. */
function nowUs(page: Page): Promise<number> {
  return page.evaluate(() => Number(Reflect.get(window, 'soakRunning').nowUs() ?? 0));
}

/** The file of one set, read past the app and in a tab of its own: its text would count as the app's memory. */
async function storedFile(page: Page, setId: string): Promise<Uint8Array> {
  const tab = await page.context().newPage();
  try {
    await tab.goto(new URL('manifest.webmanifest', page.url()).href);
    const base64 = await tab.evaluate(async (name) => {
      const root = await navigator.storage.getDirectory();
      const sets = await root.getDirectoryHandle('sets');
      const file = await (await sets.getFileHandle(name)).getFile();
      const reader = new FileReader();
      return new Promise<string>((resolve, reject) => {
        reader.onload = () => resolve(String(reader.result).replace(/^[^,]*,/, ''));
        reader.onerror = () => reject(reader.error);
        reader.readAsDataURL(file);
      });
    }, `${setId}.mcap`);
    return new Uint8Array(Buffer.from(base64, 'base64'));
  } finally {
    await page.bringToFront();
    await tab.close();
  }
}
