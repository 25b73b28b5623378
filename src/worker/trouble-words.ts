import { StorageError } from '../storage/storage-error.ts';
import type { WorkerTrouble } from './contract.ts';

/** Data or an end without a set. */
export function noRunningSet(): WorkerTrouble {
  return {
    code: 'no-running-set',
    message: 'No set is running, so nothing was recorded. Start a set first.',
  };
}

/** Reading and writing many files would hold up the running one. */
export function endSetFirst(): WorkerTrouble {
  return {
    code: 'not-changed',
    message: 'A set is running: end it first. Nothing was changed.',
  };
}

/** The pipeline failed on the live path, which never stops recording. */
export function liveTrouble(error: unknown): WorkerTrouble {
  return {
    code: 'unexpected',
    message: `The live numbers have stopped (${wordsOf(error)}). Recording goes on; open the set when it has ended.`,
  };
}

/** Anything caught while handling a message. */
export function troubleFrom(error: unknown): WorkerTrouble {
  if (error instanceof StorageError) return { code: error.code, message: error.message };
  return {
    code: 'unexpected',
    message: `Something went wrong in the recorder (${wordsOf(error)}). Reload the page if it happens again; what was saved stays saved.`,
  };
}

/** What an exception says. */
export function wordsOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
