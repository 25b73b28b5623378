/** Storage failed; the codes are those the screens know (WorkerTrouble). */
export class StorageError extends Error {
  override readonly name = 'StorageError';
  readonly code: 'storage-unavailable' | 'storage-full' | 'set-unreadable' | 'unexpected';

  constructor(code: StorageError['code'], message: string) {
    super(message);
    this.code = code;
  }
}

/**
 * What a browser's storage threw, in words for a coach.
 * @param error anything caught around a storage call; a StorageError passes through
 * @returns an error whose message says what is wrong and what to do
 * Source: exception names of the File System and Storage standards (WHATWG), IndexedDB 3.0 (W3C).
 */
export function storageErrorFrom(error: unknown): StorageError {
  if (error instanceof StorageError) return error;
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  switch (name) {
    case 'QuotaExceededError':
      return new StorageError(
        'storage-full',
        'The storage of this device is full. Export and delete old sets or free space, then start a new set.',
      );
    case 'SecurityError':
    case 'InvalidStateError':
    case 'UnknownError':
      return unavailable();
    case 'NotFoundError':
      return new StorageError(
        'set-unreadable',
        'The file of this set is no longer there. Import it again from an export if you have one.',
      );
    case 'NoModificationAllowedError':
      return new StorageError(
        'unexpected',
        'The file of this set is in use. Close other tabs of this program and try again.',
      );
    default:
      return new StorageError(
        'unexpected',
        `The storage of this browser failed (${error instanceof Error ? error.message : String(error)}). Reload the page; what was saved stays saved.`,
      );
  }
}

/** The browser keeps no files here: private window, old browser, or blocked by a setting. */
export function unavailable(): StorageError {
  return new StorageError(
    'storage-unavailable',
    'This browser stores nothing here: a private window, a blocked setting or an old version. Use a normal window of a current browser, or export each set before you close the page.',
  );
}
