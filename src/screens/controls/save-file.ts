/** Offers bytes to the coach as a file, through the browser's own download. @param parts in order */
export function saveFile(fileName: string, parts: readonly Uint8Array[]): void {
  // Blob does not take views of shared memory, which the type allows and nobody here makes.
  const blob = new Blob(parts as Uint8Array<ArrayBuffer>[], { type: 'application/octet-stream' });
  const url = URL.createObjectURL(blob);
  const link = document.createElement('a');
  link.href = url;
  link.download = fileName;
  link.click();
  // The download holds the data itself once it has begun.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
