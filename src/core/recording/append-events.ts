import { joinedBytes } from './joined-bytes.ts';
import { readSet } from './set-reader.ts';
import type { SetEvent } from './set-record.ts';
import { SetWriter } from './set-writer.ts';

/** How a file changes when something is said about it later: all bytes up to `keptBytes` stay, these follow. */
export interface FileTail {
  readonly keptBytes: number;
  readonly tail: Uint8Array;
}

/** A set to which nothing can be added; `message` says why and what to do. */
export class AppendError extends Error {
  override readonly name = 'AppendError';
}

/**
 * Events added to a set that was recorded earlier: an edit changes no byte of what was recorded, only the end mark
 * gives way to the events and a new one. A crash in between leaves a set without its end, which is one all the same.
 * @param file bytes of the whole set file
 * @param events in order; their time is that of the last record
 * @throws AppendError when the file is no set, or damaged in its middle: writing on would cost what lies behind
 * @throws ShapeError when an event could not be read back
 * Source: recorded-streams/FORMAT.md.
 * Checked: tests/recording/append-events.test.ts
 */
export function appendEvents(file: Uint8Array, events: readonly SetEvent[]): FileTail {
  const result = readSet(file);
  if (!result.ok) throw new AppendError(result.error.message);
  const { records, recordsEndAt, nextSequence, isDamaged } = result.set;
  if (isDamaged) {
    throw new AppendError(
      'The file of this set is damaged, so nothing is written into it: what lies behind the damage would be lost. Save the file, then import it again: what can be read becomes a set of its own.',
    );
  }
  const parts: Uint8Array[] = [];
  const sink = { append: (bytes: Uint8Array) => parts.push(bytes) };
  const writer = SetWriter.resume(sink, file.subarray(0, recordsEndAt), nextSequence);
  const hostTimeUs = records.reduce((latest, record) => Math.max(latest, record.hostTimeUs), 0);
  for (const event of events) writer.append({ kind: 'event', hostTimeUs, event });
  writer.end();
  return { keptBytes: recordsEndAt, tail: joinedBytes(parts) };
}
