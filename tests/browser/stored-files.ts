import type { Page } from 'playwright-core';

/** The files of all sets in the page's storage by name, read past the app. */
export async function storedFiles(page: Page): Promise<ReadonlyMap<string, Uint8Array>> {
  const files = await page.evaluate(async () => {
    const root = await navigator.storage.getDirectory();
    const sets = await root.getDirectoryHandle('sets', { create: true });
    const found: [string, string][] = [];
    for await (const [name, handle] of sets.entries()) {
      if (!(handle instanceof FileSystemFileHandle)) continue;
      const bytes = new Uint8Array(await (await handle.getFile()).arrayBuffer());
      let text = '';
      for (let at = 0; at < bytes.length; at += 8192) {
        text += String.fromCharCode(...bytes.subarray(at, at + 8192));
      }
      found.push([name, btoa(text)]);
    }
    return found;
  });
  return new Map(
    files.map(([name, base64]) => [name, new Uint8Array(Buffer.from(base64, 'base64'))]),
  );
}
