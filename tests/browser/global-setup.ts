import type { TestProject } from 'vitest/node';
import { findChromium } from './find-chromium.ts';
import { serveApp } from './serve-app.ts';

export interface BrowserUnderTest {
  readonly baseUrl: string;
  readonly chromiumPath: string;
  /** Folder with the files of the app that is served. */
  readonly folder: string;
}

declare module 'vitest' {
  export interface ProvidedContext {
    /** null: no Chromium on this machine, browser tests skip. */
    browserUnderTest: BrowserUnderTest | null;
  }
}

export default async function setup(
  project: TestProject,
): Promise<(() => Promise<void>) | undefined> {
  const chromiumPath = findChromium();
  if (chromiumPath === null) {
    if (process.env.CI) throw new Error('No Chromium found: install one or set CHROMIUM_PATH.');
    project.provide('browserUnderTest', null);
    return undefined;
  }
  const app = await serveApp();
  project.provide('browserUnderTest', {
    baseUrl: app.baseUrl,
    folder: app.folder,
    chromiumPath,
  });
  return app.close;
}
