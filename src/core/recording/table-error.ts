/** A table that cannot be brought in; `message` says what is wrong and what to do. */
export class TableError extends Error {
  override readonly name = 'TableError';
}
