/** From index.html, set by vite.config.ts. */
declare const __CONTENT_SECURITY_POLICY__: string;

/** One file of a version. */
export interface ListedFile {
  /** Relative to the service worker. */
  readonly url: string;
  /** Changes with the content; null when the name itself does. */
  readonly revision: string | null;
}

/** Every version keeps its files in a cache of its own, so that a page open on an older one finds all its parts. */
const FILES = 'reach-funnel-files-';
/** Remembers which version pages are served. */
const CHOICE = 'reach-funnel-choice';
const CHOICE_KEY = './chosen-version';
const START_PAGE = 'index.html';

interface Choice {
  /** Name of the cache that pages are served from. */
  readonly chosen: string;
  /** The one before: pages may still be open on it. */
  readonly previous: string | null;
}

/** @returns name of the cache for these files: the same files, the same name */
export async function versionName(files: readonly ListedFile[]): Promise<string> {
  const list = files.map(({ url, revision }) => `${url} ${revision ?? ''}`).sort();
  const bytes = new TextEncoder().encode(list.join('\n'));
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return FILES + [...digest.subarray(0, 8)].map((b) => b.toString(16).padStart(2, '0')).join('');
}

/**
 * Fetches every file of a version past the HTTP cache. Nothing is kept unless all came.
 * @throws Error naming the file that did not come
 */
export async function fetchVersion(name: string, files: readonly ListedFile[]): Promise<void> {
  const fetched = await Promise.all(
    files.map(async ({ url }) => [keyOf(url), await fetchFile(keyOf(url))] as const),
  );
  const cache = await caches.open(name);
  await Promise.all(fetched.map(([key, response]) => cache.put(key, response)));
}

/** Servers may redirect index.html to its folder, and a redirected answer cannot be a page. */
function keyOf(url: string): string {
  return url === START_PAGE ? './' : url;
}

async function fetchFile(key: string): Promise<Response> {
  const response = await fetch(key, { cache: 'reload' });
  if (!response.ok) throw new Error(`${key} came with status ${response.status}`);
  // Some servers send their start page in place of a file they do not have.
  const isPage = response.headers.get('content-type')?.startsWith('text/html') ?? false;
  if (isPage && key !== './') throw new Error(`${key} is missing on the server`);
  return withPolicy(response);
}

/**
 * The page's rule against foreign addresses does not reach into its worker, which obeys only what came with its own
 * file; nor can a page forbid by itself to be framed.
 * Source: W3C Content Security Policy Level 3, 4.2.2 and 6.4.2.
 * Checked: tests/browser/origin.test.ts
 */
function withPolicy({ body, status, statusText, headers }: Response): Response {
  const more = new Headers(headers);
  more.set('content-security-policy', `${__CONTENT_SECURITY_POLICY__}; frame-ancestors 'none'`);
  return new Response(body, { status, statusText, headers: more });
}

/** @returns null before the first version was chosen */
export async function readChoice(): Promise<Choice | null> {
  const cache = await caches.open(CHOICE);
  return (await (await cache.match(CHOICE_KEY))?.json()) ?? null;
}

/** From the next page load on, this version is served. */
export async function choose(name: string): Promise<void> {
  const before = await readChoice();
  if (before?.chosen === name) return;
  const choice: Choice = { chosen: name, previous: before?.chosen ?? null };
  await (await caches.open(CHOICE)).put(CHOICE_KEY, Response.json(choice));
}

/** Deletes versions that no page is open on and none will be: all but the newest, the chosen one and the one before. */
export async function forgetOldVersions(newest: string): Promise<void> {
  const choice = await readChoice();
  const kept = [newest, choice?.chosen, choice?.previous];
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith(FILES) && !kept.includes(name));
  await Promise.all(old.map((name) => caches.delete(name)));
}

/**
 * A file of the chosen version; of any other if that has none of this name, for pages opened before.
 * @returns undefined for what no version has
 */
export async function storedFile(address: string): Promise<Response | undefined> {
  const choice = await readChoice();
  if (choice === null) return undefined;
  const { origin, pathname } = new URL(address);
  const isStartPage = pathname.endsWith(`/${START_PAGE}`);
  const key = origin + (isStartPage ? pathname.slice(0, -START_PAGE.length) : pathname);
  return (await (await caches.open(choice.chosen)).match(key)) ?? caches.match(key);
}
