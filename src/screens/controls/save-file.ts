/** Offers bytes to the coach as a file, through the browser's own download. */
export function saveFile(fileName: string, bytes: Uint8Array): void {
  // A fresh copy: a Blob does not take views of shared memory, which the type allows.
  const url = URL.createObjectURL(
    new Blob([new Uint8Array(bytes)], { type: 'application/octet-stream' }),
  );
  const link = document.createElement('a');
  link.href = url;
  link.download = fileName;
  link.click();
  // The download holds the data itself once it has begun.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
