import type { VersionAnswer, VersionRequest } from '../version-messages.ts';
import {
  choose,
  fetchVersion,
  forgetOldVersions,
  type ListedFile,
  readChoice,
  storedFile,
  versionName,
} from './version-store.ts';

declare const self: ServiceWorkerGlobalScope;
/** Every file of this version: written in by the build (vite.config.ts). */
declare const __FILES__: readonly ListedFile[];

/*
 * The app without network. A worker that waits would take over unasked once all pages are closed; so this one never
 * waits, but goes on serving the version that was chosen before until a page says that the coach wants the new one.
 */
const FILES = __FILES__;

async function install(): Promise<void> {
  const name = await versionName(FILES);
  await fetchVersion(name, FILES);
  if ((await readChoice()) === null) await choose(name);
  await self.skipWaiting();
}

async function activate(): Promise<void> {
  await forgetOldVersions(await versionName(FILES));
  await self.clients.claim();
}

async function answer(request: VersionRequest, port: MessagePort): Promise<void> {
  const name = await versionName(FILES);
  if (request.type === 'use-newest') await choose(name);
  const isNewVersionReady = (await readChoice())?.chosen !== name;
  port.postMessage({ isNewVersionReady } satisfies VersionAnswer);
}

self.addEventListener('install', (event) => event.waitUntil(install()));
self.addEventListener('activate', (event) => event.waitUntil(activate()));
self.addEventListener('message', (event) => {
  const [port] = event.ports;
  if (port !== undefined) event.waitUntil(answer(event.data as VersionRequest, port));
});
self.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'GET' || new URL(request.url).origin !== self.location.origin) return;
  event.respondWith(storedFile(request.url).then((stored) => stored ?? fetch(request)));
});
